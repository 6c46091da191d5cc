/**
 * The board makes way for new firmware: a laptop may ask for it at rest, and only a hand that turns the knob allows it.
 * Any other gesture calls it off, and so does the time.
 */
import { makeWay } from '../board';
import { Job, MakingWay, RunState } from '../generated/constants';
import { outboxIsEmpty } from '../log/outbox';
import { NOT_AT_REST } from '../protocol/refusals';
import { ascii } from '../protocol/texts';
import { Unkept } from '../state/keeping';
import { Due, Question } from '../state/situation';
import { keeping, left, reading, situation } from '../state/state';
import { isStored } from '../storage/flash-queue';
import { storageIsForeign } from '../storage/format-mark';
import { setTimer, Timer } from '../timers/timers';
import { enter, goToRest, SECOND_US } from './enter';
import { ask, leaveQuestion } from './question';

/** So long a hand may take. */
const ANSWER_US: i64 = 30_000_000;
/** A knob that was only brushed against turns less. */
export const CLICKS_TO_LEAVE: i32 = 3;
export const MAY_ASK: usize = 0;

export function makingWayNow(): MakingWay {
  if (situation.state == RunState.Leaving) return MakingWay.Leaving;
  return situation.state == RunState.Asking && situation.question == Question.Way
    ? MakingWay.Asked
    : MakingWay.NotAsked;
}

/** Everything that the evening wants kept is in the flash; a flash of another format is not written to at all. */
export function allIsStored(): bool {
  return storageIsForeign() || (isStored() && outboxIsEmpty() && keeping.waiting == Unkept.Nothing);
}

/** Why the hand is not to be asked, in words for the laptop; or MAY_ASK. Being stored is asked for beside. */
export function whyNotMakeWay(): usize {
  if (situation.state != RunState.Rest) return NOT_AT_REST;
  if (left.isOffered) return ascii('a sheet lacks light: go on with it or turn away');
  return reading.unread == Job.None ? MAY_ASK : ascii('a sheet waits to be read');
}

export function askToMakeWay(nowUs: i64): void {
  situation.clicksToLeave = 0;
  ask(Question.Way, nowUs);
  setTimer(Timer.Second, nowUs + ANSWER_US);
}

/** To the right it is allowed, to the left called off. */
export function turnToLeave(clicks: i32, nowUs: i64): void {
  situation.clicksToLeave += clicks;
  if (clicks < 0) {
    leaveQuestion(nowUs);
  } else if (situation.clicksToLeave >= CLICKS_TO_LEAVE) {
    enter(RunState.Leaving, nowUs);
    // Time to show it, and to tell a laptop that asks.
    setTimer(Timer.Second, nowUs + SECOND_US);
  }
}

/** Timer.Second has come: nobody answered, or the hand has allowed it. */
export function onWayDue(nowUs: i64): void {
  const isAllowed = situation.state == RunState.Leaving;
  goToRest(nowUs);
  if (!isAllowed) return;
  if (allIsStored()) makeWay();
  else situation.due = Due.Wrong;
}
