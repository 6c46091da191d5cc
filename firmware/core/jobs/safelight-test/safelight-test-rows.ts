/** The safelight test on the panel: at rest, at the knob's figure, half by half, band by band, and while it is read. */

import { RunState } from '../../generated/constants';
import { passNow } from '../../plan/giving';
import { ascii } from '../../protocol/texts';
import { putMinutes, putSeconds } from '../../rows/figures';
import { beginRow, put, putByte, putNumber } from '../../rows/row';
import { chosen, reading, situation } from '../../state/state';
import { bandMinutes, GREY_BEFORE, SAFELIGHT_BANDS } from './safelight-plan';
import { bandsCovered, nextMoveSeconds, safelightSeconds, safeMinutesRead } from './safelight-test';

export function drawGrey(): void {
  putSeconds(chosen.greyMs);
  put(ascii(' light grey'));
}

export function drawSafelightTest(): void {
  put(ascii('Safelight test'));
}

export function drawGreyFigure(): void {
  putSeconds(chosen.greyMs);
  beginRow(2);
  drawSafelightTest();
  beginRow(3);
  put(ascii('Knob: a light grey'));
}

export function drawGreyPass(): void {
  const isBefore = passNow().patch == GREY_BEFORE;
  beginRow(2);
  put(isBefore ? ascii('Uncover left half') : ascii('Uncover right half'));
  beginRow(3);
  put(isBefore ? ascii('Grey before fogging') : ascii('Grey after fogging'));
}

/** Bands are counted as the card covers them. */
export function drawSafelight(): void {
  const isTiming = situation.state == RunState.Timing;
  putMinutes(isTiming ? nextMoveSeconds() : safelightSeconds());
  put(isTiming ? ascii(' to next move') : ascii(' of safelight'));
  beginRow(2);
  const covered = isTiming ? bandsCovered() : 1;
  put(covered == 1 ? ascii('Cover band 1') : ascii('Cover bands 1 to '));
  if (covered != 1) putNumber(covered);
  beginRow(3);
  put(ascii('Bands: '));
  for (let band = 0; band < SAFELIGHT_BANDS; band++) {
    putNumber(bandMinutes(band));
    putByte(0x20);
  }
  put(ascii('min'));
}

/** Of both halves, the worse. */
export function drawSafelightReading(): void {
  put(ascii('Safe for '));
  putNumber(safeMinutesRead());
  put(ascii(' min'));
  beginRow(2);
  if (reading.choice == 0) {
    put(ascii('No band is fogged'));
  } else {
    put(ascii('Band '));
    putNumber(reading.choice + 1);
    put(ascii(' is fogged'));
  }
  beginRow(3);
  put(ascii('Knob: first fogged'));
}
