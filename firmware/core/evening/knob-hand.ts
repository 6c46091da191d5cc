/**
 * What the knob does in each state. It never lights the lamp, and is not listened to while the lamp is on or
 * about to be, nor while a foot is on the pedal, so that what the panel promised the foot stays true.
 */
import { Job, RunState } from '../generated/constants';
import { isPrint, jobAtPush } from '../jobs/kinds';
import { KnobGesture } from '../knob/knob';
import { noteTurn } from '../knob/turn-speed';
import { Begun, begun } from '../log/outbox';
import { pedalIsDown } from '../pedal/pedal';
import { beginPass } from '../plan/giving';
import { eveningPlan } from '../plan/plan';
import { NEXT_PASS } from '../state/chosen';
import { Lit } from '../state/light';
import { Due } from '../state/situation';
import { chosen, keeping, left, light, reading, situation } from '../state/state';
import { askKeepAs, pushAnswer, turnAnswer } from './asking';
import { enter, goToRest, planAnew } from './enter';
import { backOut, finishSheet } from './exposing';
import { turnMenu } from './menu';
import { planAsItIs } from './planned-job';
import { leaveQuestion } from './question';
import { goOn, readSheet, takeReading, turnChoice } from './transitions';
import { goToNextFigure, logTurning, turnFigure } from './turning';

/** More detents than this at once are a fault of the encoder. */
const MOST_CLICKS: i32 = 24;

export function onTurn(detents: i32, nowUs: i64): void {
  if (isDeaf() || detents == 0) return;
  const clicks = max(-MOST_CLICKS, min(MOST_CLICKS, detents));
  noteTurn(clicks, nowUs);
  switch (situation.state) {
    case RunState.Rest:
      turnMenu(clicks);
      planAnew(nowUs);
      return;
    case RunState.Ready:
    case RunState.StepReady:
      if (!turnFigure(clicks, nowUs)) situation.due = Due.Wrong;
      return;
    case RunState.Done:
      if (isPrint(situation.job)) giveAgain(nowUs);
      else if (isUnread()) readSheet(nowUs);
      return;
    case RunState.Choosing:
      turnChoice(clicks);
      return;
    case RunState.Asking:
      turnAnswer(clicks, nowUs);
      return;
  }
}

export function onKnob(gesture: KnobGesture, nowUs: i64): void {
  if (gesture == KnobGesture.None || isDeaf()) return;
  if (gesture == KnobGesture.Push) push(nowUs);
  else hold(nowUs);
}

function isDeaf(): bool {
  return (
    light.lit != Lit.No || situation.startWanted || begun != Begun.None || keeping.recipe || pedalIsDown()
  );
}

function push(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      if (left.isOffered) goOn(nowUs);
      else if (isUnread()) readSheet(nowUs);
      else if (!goToJobAtPush(nowUs)) goOn(nowUs);
      return;
    case RunState.Done:
      if (isUnread()) readSheet(nowUs);
      else goToJobAtPush(nowUs);
      return;
    case RunState.Choosing:
      takeReading(nowUs);
      return;
    case RunState.Asking:
      pushAnswer(nowUs);
      return;
    case RunState.Ready:
      if (isOnlyAgain()) finishSheet(nowUs);
      else goToNextFigure(nowUs);
      return;
    case RunState.StepReady:
      goToNextFigure(nowUs);
      return;
  }
}

/** False where a push chooses nothing else. */
function goToJobAtPush(nowUs: i64): bool {
  const job = jobAtPush(situation.job);
  if (job == situation.job) return false;
  situation.job = job;
  goToRest(nowUs);
  return true;
}

/** The sheet has all its passes, and the knob is at one of them. */
function isOnlyAgain(): bool {
  return chosen.figure == NEXT_PASS && chosen.passDue == eveningPlan.passCount;
}

/** Back; and where there is nothing to go back from, under which name the print is to be kept. */
function hold(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
    case RunState.Done:
      if (!askKeepAs(nowUs)) situation.due = Due.Wrong;
      return;
    case RunState.Asking:
      leaveQuestion(nowUs);
      return;
    case RunState.LensCheck:
    case RunState.Choosing:
      goToRest(nowUs);
      return;
    case RunState.Ready:
    case RunState.StepReady:
      logTurning(nowUs);
      backOut(nowUs);
      return;
  }
}

/** Patches that are still to be read are read when the knob comes to them. */
function isUnread(): bool {
  const unread = reading.unread;
  return unread != Job.None && unread == situation.job;
}

/** The last pass of the sheet that is done, once more; from there the knob goes to the others. */
function giveAgain(nowUs: i64): void {
  planAsItIs();
  beginPass(eveningPlan.passCount - 1);
  enter(RunState.Ready, nowUs);
  chosen.figure = NEXT_PASS;
  chosen.passDue = eveningPlan.passCount;
}
