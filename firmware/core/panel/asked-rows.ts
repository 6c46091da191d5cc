/** What the panel asks before a light, in words for each thing that a printer may not have meant: rows 1 to 3. */
import { Asked } from '../evening/what-is-asked';
import { ExposureKind, Job } from '../generated/constants';
import { filterOfPass } from '../jobs/filters';
import { passLabel } from '../jobs/recipe/labels';
import { firstLeftOut, passesLeftOut, passNow } from '../plan/giving';
import { eveningPlan } from '../plan/plan';
import { ascii } from '../protocol/texts';
import { putOf, putSeconds } from '../rows/figures';
import { beginRow, put, putByte, putNumber, putText } from '../rows/row';
import { filterIn, given, situation } from '../state/state';
import { putPass } from './pass-name';

/** Row 1 is begun. */
export function drawAsked(asked: Asked): void {
  switch (asked) {
    case Asked.Filter:
      drawFilterAsked();
      return;
    case Asked.Again:
      put(ascii('Give '));
      putPass(situation.job, given.pass, 0);
      put(ascii(' again?'));
      drawWhich();
      drawHad();
      return;
    case Asked.LeaveOut:
      drawLeftOut(passesLeftOut(given.pass));
      drawWhich();
      drawNext();
      return;
    default:
      put(ascii('Turn: another pass'));
      drawWhich();
      drawNext();
  }
}

/** What it has had already; of a light that was cut with the power nobody knows how much, and it may have been a rest. */
function drawHad(): void {
  if (given.mostMs != 0) {
    put(ascii('Had at most '));
    putSeconds(max(i32(given.mostMs), passNow().doseMs));
    return;
  }
  put(ascii('Same sheet'));
  if (situation.job == Job.LampTest) return;
  put(ascii(', '));
  putOf(given.pass + 1, eveningPlan.passCount);
}

function drawLeftOut(count: i32): void {
  put(ascii('Leave out '));
  if (count == 1) {
    putPass(situation.job, firstLeftOut(), 0);
  } else {
    putNumber(count);
    put(ascii(' of '));
    putNumber(eveningPlan.passCount);
  }
  putByte(0x3f);
}

/** The pass that the knob stands at. */
function drawWhich(): void {
  beginRow(2);
  putText(passLabel(given.pass));
  beginRow(3);
}

function drawNext(): void {
  put(ascii('Next: '));
  putPass(situation.job, given.pass, eveningPlan.passCount);
}

function isStrip(): bool {
  return passNow().kind == ExposureKind.Strip;
}

/** What is in and what comes. */
function drawFilterAsked(): void {
  put(ascii('Put in '));
  putText(filterOfPass(given.pass));
  beginRow(2);
  if (load<u8>(filterIn) != 0) {
    put(ascii('Take out '));
    putText(filterIn);
  }
  beginRow(3);
  if (passNow().kind == ExposureKind.Plain) {
    put(ascii('Plain exposure'));
    return;
  }
  put(isStrip() ? ascii('Patch ') : ascii('Pass '));
  putNumber(given.pass + 1);
  put(ascii(': '));
  if (isStrip()) put(ascii('test strip'));
  else putText(passLabel(given.pass));
}
