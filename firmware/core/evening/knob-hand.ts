/**
 * What the knob does in each state. It never lights the lamp, and is not listened to while the lamp is on or
 * about to be, nor while a foot is on the pedal, so that what the panel promised the foot stays true.
 */
import { Job, RunState } from '../generated/constants';
import { KnobGesture } from '../knob/knob';
import { Begun, begun } from '../log/outbox';
import { pedalIsDown } from '../pedal/pedal';
import { eveningPlan } from '../plan/plan';
import { backOut } from './exposing';
import { planAsItIs } from './job';
import { keepingRecipe, keepRecipe } from './keep';
import { Lit, lit } from './lamp-control';
import { turnMenu } from './menu';
import { beginPass } from './pass';
import { turnChoice, unreadJob } from './reading';
import { Due, situation } from './situation';
import { enter, next, planAnew, readSheet, rest, takeReading } from './transitions';
import { nextFigure, turnFigure, turningIsLogged } from './turning';

/** More detents than this at once are a fault of the encoder. */
const MOST_CLICKS: i32 = 24;

export function onTurn(detents: i32, nowUs: i64): void {
  if (isDeaf() || detents == 0) return;
  const clicks = max(-MOST_CLICKS, min(MOST_CLICKS, detents));
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
      if (situation.job == Job.Recipe) giveAgain(nowUs);
      else readIfUnread(nowUs);
      return;
    case RunState.Choosing:
      turnChoice(clicks);
      return;
  }
}

export function onKnob(gesture: KnobGesture, nowUs: i64): void {
  if (gesture == KnobGesture.None || isDeaf()) return;
  if (gesture == KnobGesture.Push) pushed(nowUs);
  else held(nowUs);
}

function isDeaf(): bool {
  return lit != Lit.No || situation.startWanted || begun != Begun.None || keepingRecipe || pedalIsDown();
}

function pushed(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      if (!readIfUnread(nowUs)) next(nowUs);
      return;
    case RunState.Done:
      readIfUnread(nowUs);
      return;
    case RunState.Choosing:
      takeReading(nowUs);
      return;
    case RunState.Ready:
    case RunState.StepReady:
      nextFigure(nowUs);
      return;
  }
}

/** Back; and where there is nothing to go back from, what was changed is kept. */
function held(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
    case RunState.Done:
      situation.due = keepRecipe() ? Due.End : Due.Wrong;
      return;
    case RunState.LensCheck:
    case RunState.Choosing:
      rest(nowUs);
      return;
    case RunState.Ready:
    case RunState.StepReady:
      turningIsLogged(nowUs);
      backOut(nowUs);
      return;
  }
}

/** Patches that are still to be read are read when the knob comes to them. */
function readIfUnread(nowUs: i64): bool {
  if (unreadJob == Job.None || unreadJob != situation.job) return false;
  readSheet(nowUs);
  return true;
}

/** The last pass of the sheet that is done, once more; from there the knob goes to the others. */
function giveAgain(nowUs: i64): void {
  planAsItIs();
  beginPass(eveningPlan.passCount - 1);
  enter(RunState.Ready, nowUs);
  nextFigure(nowUs);
}
