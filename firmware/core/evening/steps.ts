/**
 * Steps that the board times without the lamp: a bath, or the safelight's minutes on the bands of its test. A tap
 * starts one; from then on the seconds are counted and every move is called.
 */

import { bathSeconds } from '../baths/baths';
import { Job, RunState } from '../generated/constants';
import { bandMinutes, SAFELIGHT_BANDS } from '../plan/safelight-plan';
import { setTimer, Timer } from '../timers/timers';
import { beginPass } from './pass';
import { bathIndex, beginBaths, enterBath, leaveBath } from './processing';
import { situation } from './situation';
import { enter } from './transitions';

const SECOND_US: i64 = 1_000_000;
const SECONDS_IN_MINUTE: i32 = 60;

/** Of the step under way. */
export let elapsedSeconds: i32 = 0;
let startedUs: i64 = 0;

/** The paper is ready for its first bath. */
export function toBaths(nowUs: i64): void {
  beginBaths();
  elapsedSeconds = 0;
  enter(RunState.StepReady, nowUs);
}

/** The grey before has been given. */
export function toSafelight(nowUs: i64): void {
  elapsedSeconds = 0;
  enter(RunState.StepReady, nowUs);
}

export function startStep(nowUs: i64): void {
  if (situation.job == Job.Process) enterBath(nowUs);
  startedUs = nowUs;
  elapsedSeconds = 0;
  enter(RunState.Timing, nowUs);
  setTimer(Timer.Second, nowUs + SECOND_US);
}

/** Another second of the step has gone by. */
export function stepSecond(nowUs: i64): void {
  elapsedSeconds++;
  if (elapsedSeconds >= stepSeconds()) {
    endStep(nowUs);
  }
}

export function stepSeconds(): i32 {
  return situation.job == Job.Process
    ? bathSeconds(bathIndex)
    : bandMinutes(SAFELIGHT_BANDS - 1) * SECONDS_IN_MINUTE;
}

/** The card goes over another band of the safelight test just now. */
export function bandMoves(): bool {
  return bandMinutes(bandsCovered() - 1) * SECONDS_IN_MINUTE == elapsedSeconds;
}

/** How many bands of the safelight test the card covers by now; the first one from the beginning. */
export function bandsCovered(): i32 {
  let covered = 0;
  while (covered < SAFELIGHT_BANDS && bandMinutes(covered) * SECONDS_IN_MINUTE <= elapsedSeconds) covered++;
  return covered;
}

/** The next move of the card in the safelight test, in seconds from now. */
export function nextMoveSeconds(): i32 {
  return bandMinutes(min(SAFELIGHT_BANDS - 1, bandsCovered())) * SECONDS_IN_MINUTE - elapsedSeconds;
}

/** The step has had its time, or the printer takes the paper out before. */
export function endStep(nowUs: i64): void {
  if (situation.job != Job.Process) {
    beginPass(1);
    enter(RunState.Ready, nowUs);
    return;
  }
  const more = leaveBath(givenMs(nowUs), nowUs);
  elapsedSeconds = 0;
  enter(more ? RunState.StepReady : RunState.Done, nowUs);
}

/** The printer goes back to rest in the middle of it; a bath that the paper was in counts. */
export function breakOffStep(nowUs: i64): void {
  if (situation.state == RunState.Timing && situation.job == Job.Process) leaveBath(givenMs(nowUs), nowUs);
}

function givenMs(nowUs: i64): u32 {
  return u32((nowUs - startedUs) / 1000);
}
