/**
 * Steps that the board times without the lamp: a bath, or the safelight's minutes on the bands of its test. A tap
 * starts one; from then on the seconds are counted and every move is called.
 */
import { Job, RunState } from '../generated/constants';
import {
  beginStep,
  breakOffStepOf,
  canBeginStep,
  endStepOf,
  isBaths,
  isTapAwaited,
  isTapTooSoon,
  stepSeconds,
  takeTapInStep,
} from '../jobs/kinds';
import { Due } from '../state/situation';
import { left, situation, timed } from '../state/state';
import { setTimer, Timer } from '../timers/timers';
import { enter, SECOND_US } from './enter';

/** The paper, or the card, is put ready for it. */
export function prepareStep(nowUs: i64): void {
  timed.elapsedSeconds = 0;
  enter(RunState.StepReady, nowUs);
}

export function startStep(nowUs: i64): void {
  if (!canBeginStep(situation.job)) {
    situation.due = Due.Wrong;
    return;
  }
  if (isBaths(situation.job)) left.job = Job.None;
  beginStep(situation.job, nowUs);
  timed.startedUs = nowUs;
  timed.elapsedSeconds = 0;
  enter(RunState.Timing, nowUs);
  setTimer(Timer.Second, nowUs + SECOND_US);
}

/** The foot in the middle of a bath: the first tone shows, where that is waited for, or the paper comes out. */
export function tapInStep(nowUs: i64): void {
  if (isTapAwaited(situation.job)) takeTapInStep(nowUs);
  else if (isTapTooSoon(situation.job)) situation.due = Due.Wrong;
  else endStep(nowUs);
}

/** Another second of the step has gone by. */
export function countStepSecond(nowUs: i64): void {
  timed.elapsedSeconds++;
  if (timed.elapsedSeconds >= stepSeconds(situation.job)) endStep(nowUs);
}

/** The step has had its time, or the printer takes the paper out before. */
export function endStep(nowUs: i64): void {
  const next = endStepOf(situation.job, givenMs(nowUs), nowUs);
  timed.elapsedSeconds = 0;
  enter(next, nowUs);
}

export function breakOffStep(nowUs: i64): void {
  if (situation.state == RunState.Timing) breakOffStepOf(situation.job, givenMs(nowUs), nowUs);
}

function givenMs(nowUs: i64): u32 {
  return u32((nowUs - timed.startedUs) / 1000);
}
