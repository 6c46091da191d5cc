/** The lamp test on the panel: at rest, at the knob's figure, patch by patch, and while it is read. */
import { passNow } from '../../plan/giving';
import { ascii } from '../../protocol/texts';
import { putOf, putSeconds } from '../../rows/figures';
import { beginRow, put, putByte, putNumber } from '../../rows/row';
import { chosen } from '../../state/state';
import { drawPatchRead } from '../patch-rows';
import { isFound } from '../patches';
import { lagReadMs, testLagMs } from './lamp-test';
import { LAMP_TEST_PATCHES, lampTestMs } from './lamp-test-plan';

export function drawLampTestTime(): void {
  putSeconds(lampTestMs(chosen.firstLagMs));
  put(ascii(' mid grey'));
}

export function drawLampTest(): void {
  put(ascii('Lamp test'));
}

/** "-60 to 60 ms lag" */
export function drawLampTestNote(): void {
  putNumber(chosen.firstLagMs);
  put(ascii(' to '));
  drawLag(testLagMs(LAMP_TEST_PATCHES - 1));
}

function drawLag(lagMs: i32): void {
  putNumber(lagMs);
  put(ascii(' ms lag'));
}

export function drawLampTestFigure(): void {
  drawLag(chosen.firstLagMs);
  beginRow(2);
  drawLampTest();
  beginRow(3);
  put(ascii('Knob: first patch'));
}

/** Row 1 has the seconds, and goes on. */
export function drawLampTestPass(): void {
  const patch = i32(passNow().patch);
  put(ascii(' test'));
  beginRow(2);
  put(patch == 0 ? ascii('Uncover a long half') : ascii('Cover all but this'));
  beginRow(3);
  drawLampTestPatch(patch);
}

/** Patch 0 is the long exposure. */
function drawLampTestPatch(patch: i32): void {
  if (patch == 0) {
    put(ascii('To compare: '));
    putNumber(LAMP_TEST_PATCHES);
    put(ascii(' follow'));
    return;
  }
  put(ascii('Patch '));
  putOf(patch, LAMP_TEST_PATCHES);
  putByte(0x20);
  putNumber(testLagMs(patch - 1));
  put(ascii(' ms'));
}

export function drawLampTestReading(): void {
  if (isFound()) drawLag(lagReadMs());
  drawPatchRead(ascii('Knob: which matches'));
}
