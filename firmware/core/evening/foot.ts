/**
 * What the pedal does in each state. One `switch` for each gesture, so that every transition can be read on one
 * screen; what a transition does is in transitions.ts.
 *
 * A tap acts when the pedal is let go, a hold at 0.8 s. Only while the lamp is on does the press itself act, at
 * once; what follows of the same press then does nothing more, but that holding on backs out of the print.
 */
import { RunState } from '../generated/constants';
import { isBaths } from '../jobs/kinds';
import { overruleKnob } from '../knob/knob';
import { logPedalStuck } from '../log/entries';
import { Begun, begun } from '../log/outbox';
import { Gesture } from '../pedal/pedal';
import { Lit } from '../state/light';
import { hands, situation } from '../state/state';
import { takeAnswer } from './asking';
import { goToRest } from './enter';
import { askForLight, backOut, callOffStart, endPulse, jam, pause } from './exposing';
import { endLight, lightRoom } from './lamp-control';
import { logPass } from './sheet';
import { startStep, tapInStep } from './steps';
import { confirmLens, endFocus, focus, goOn, goOnFromDone, leaveFocus, takeReading } from './transitions';
import { answerBeforeLight, logTurning } from './turning';
import { Asked, askedBeforeLight } from './what-is-asked';

export function onGesture(gesture: Gesture, nowUs: i64): void {
  switch (gesture) {
    case Gesture.Press:
      overruleKnob();
      situation.pressedIn = situation.state;
      situation.pressIsFresh = nowUs >= situation.deafUntilUs && !press(nowUs);
      break;
    case Gesture.Tap:
      if (situation.pressIsFresh) tap(nowUs);
      break;
    case Gesture.Hold:
      hold(nowUs);
      break;
    case Gesture.Stuck:
      jam(nowUs);
      logPedalStuck(i32((nowUs - hands.pressedAtUs) / 1000), nowUs);
      break;
    case Gesture.Release:
      if (situation.state == RunState.Stuck) goToRest(nowUs);
      break;
  }
}

/** True where it acts at once. */
function press(nowUs: i64): bool {
  if (situation.startWanted) {
    callOffStart();
    return true;
  }
  switch (situation.state) {
    case RunState.Focus:
      leaveFocus(nowUs);
      return true;
    case RunState.Exposing:
      pause(nowUs);
      return true;
    case RunState.Ready:
      logTurning(nowUs);
      if (askedBeforeLight() == Asked.Nothing) logPass(nowUs);
      return false;
    case RunState.StepReady:
      logTurning(nowUs);
      return false;
    default:
      return false;
  }
}

/** What the board went on to while the foot was down was not what the foot was told. */
function tap(nowUs: i64): void {
  if (situation.state != situation.pressedIn) return;
  switch (situation.state) {
    case RunState.Rest:
      goOn(nowUs);
      break;
    case RunState.Done:
      goOnFromDone(nowUs);
      break;
    case RunState.StepReady:
      startStep(nowUs);
      break;
    case RunState.Timing:
      if (isBaths(situation.job)) tapInStep(nowUs);
      break;
    case RunState.Ready:
      // What the panel asked when the foot came down holds, whatever a line has changed since.
      if (begun == Begun.None) answerBeforeLight();
      else askForLight(nowUs);
      break;
    case RunState.Paused:
    case RunState.BetweenDodges:
      askForLight(nowUs);
      break;
    case RunState.Choosing:
      takeReading(nowUs);
      break;
    case RunState.Asking:
      takeAnswer(nowUs);
      break;
  }
}

/** A hold always leads back to rest with the lamp off; only begun at rest does it light the lamp, to focus by. */
function hold(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      if (situation.pressIsFresh && situation.pressedIn == RunState.Rest) focus(nowUs);
      break;
    case RunState.LensCheck:
      if (situation.pressIsFresh) confirmLens(nowUs);
      break;
    case RunState.Ready:
    case RunState.Exposing:
    case RunState.Paused:
    case RunState.BetweenDodges:
    case RunState.StepReady:
    case RunState.Timing:
    case RunState.Choosing:
    case RunState.Asking:
    case RunState.Done:
      backOut(nowUs);
      break;
  }
}

/** The lamp went off, as the board measured it. */
export function onLampEnded(onUs: u32, nowUs: i64): void {
  const was = endLight(onUs, nowUs);
  if (was == Lit.Focus) endFocus(onUs, nowUs);
  else if (was == Lit.Paper) endPulse(onUs, nowUs);
  if (situation.state != RunState.Exposing) lightRoom();
}
