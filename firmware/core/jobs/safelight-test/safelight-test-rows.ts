/**
 * The safelight test, and the one of stray light, on the panel: at rest, at the knob's figure, half by half, band by band,
 * and while it is read. They say when the safelight is off and when on, whether it hangs on the board or not.
 */

import { Job, RunState } from '../../generated/constants';
import { passNow } from '../../plan/giving';
import { eveningPlan } from '../../plan/plan';
import { ascii } from '../../protocol/texts';
import { putMinutes, putOf, putSeconds } from '../../rows/figures';
import { beginRow, put, putNumber } from '../../rows/row';
import { chosen, given, reading, situation } from '../../state/state';
import { GREY_BEFORE } from './safelight-plan';
import { bandsCovered, fogSeconds, isAnyFogged, nextMoveSeconds, safeMinutesRead } from './safelight-test';

export function drawGrey(): void {
  putSeconds(chosen.greyMs);
  put(ascii(' light grey'));
}

/** What it is; when it has all its light, what is next. */
export function drawFogTest(job: Job): void {
  if (situation.state == RunState.Done) put(ascii('Develop in the dark'));
  else put(job == Job.StrayLightTest ? ascii('Stray light test') : ascii('Safelight test'));
}

export function drawFogTestNote(): void {
  put(ascii('Paper out after tap'));
}

export function drawGreyFigure(job: Job): void {
  putSeconds(chosen.greyMs);
  beginRow(2);
  drawFogTest(job);
  beginRow(3);
  put(ascii('Knob: a light grey'));
}

/** Row 1 has the seconds, and goes on. */
export function drawGreyPass(): void {
  put(ascii(' grey '));
  putOf(given.pass + 1, eveningPlan.passCount);
  beginRow(2);
  put(passNow().patch == GREY_BEFORE ? ascii('Uncover left half') : ascii('Uncover right half'));
  beginRow(3);
  put(ascii('Safelight off'));
}

/** Bands are counted as the card covers them. */
export function drawFog(job: Job): void {
  const isTiming = situation.state == RunState.Timing;
  putMinutes(isTiming ? nextMoveSeconds() : fogSeconds());
  if (isTiming) put(ascii(' to next move'));
  else put(job == Job.StrayLightTest ? ascii(' in the dark') : ascii(' of safelight'));
  beginRow(2);
  const covered = isTiming ? bandsCovered() : 1;
  put(covered == 1 ? ascii('Cover band 1') : ascii('Cover bands 1 to '));
  if (covered != 1) putNumber(covered);
  beginRow(3);
  if (job == Job.StrayLightTest) put(ascii('Safelight stays off'));
  else put(isTiming ? ascii('Safelight on') : ascii('Tap: safelight on'));
}

/** Of both halves, the worse. */
export function drawFogReading(job: Job): void {
  put(job == Job.StrayLightTest ? ascii('Dark for ') : ascii('Safe for '));
  putNumber(safeMinutesRead());
  put(ascii(' min'));
  beginRow(2);
  if (isAnyFogged()) {
    put(ascii('Band '));
    putNumber(reading.choice + 2);
    put(ascii(' is fogged'));
  } else {
    put(ascii('No band is fogged'));
  }
  beginRow(3);
  put(ascii('Knob: first fogged'));
}
