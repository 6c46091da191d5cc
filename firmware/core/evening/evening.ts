/**
 * The evening: what the pedal does in each state. One `switch` for each gesture, so that every transition can be
 * read on one screen; what a transition does is in transitions.ts.
 *
 * A tap acts when the pedal is let go, a hold at 0.8 s. Only while the lamp is on does the press itself act, at
 * once; what follows of the same press then does nothing more, but that holding on backs out of the print.
 */

import { openBaths } from '../baths/baths';
import { forgetIncomingBaths, mixedIndex, useIncomingBaths } from '../baths/incoming-baths';
import { StripSet } from '../generated/codec';
import { ErrorCode, Job, RunState } from '../generated/constants';
import { overruleKnob, startKnob } from '../knob/knob';
import { logClock, logMixed, logPedalStuck, logStarted } from '../log/entries';
import { openOutbox } from '../log/outbox';
import { clearPanel } from '../panel/row';
import { Gesture, pedalStuck, pressedAtUs, startPedal } from '../pedal/pedal';
import { isEmptyText, sameText } from '../protocol/texts';
import { activeRecipe, recipeBeginAt } from '../recipe/recipe';
import { startSound } from '../sound/signals';
import { passIsUnderWay, stepIsUnderWay } from './announce';
import { firstBracket } from './bracket';
import { backOut, callOffStart, jam, pause, pulseEnded, wantStart } from './exposing';
import { stopTurning } from './figure';
import { FINE, firstStrip, hasRecipe, jobName, takeAgainWhenPlanned, takeRecipe, takeStrip } from './job';
import { keepingRecipe, startKeeping } from './keep';
import { Lit, lampIsOut, lightRoom, lit, startLampControl } from './lamp-control';
import { noPaperOut } from './paper-out';
import { forgetJobBefore, startProcessing } from './processing';
import { nothingToRead } from './reading';
import { logPass, noSheets } from './sheet';
import { freshSituation, situation } from './situation';
import { endStep, startStep } from './steps';
import { firstTests } from './tests-on-paper';
import {
  confirmLens,
  focus,
  focusEnded,
  goOn,
  leaveFocus,
  next,
  planAnew,
  rest,
  takeReading,
} from './transitions';
import { turningIsLogged } from './turning';
import { nothingUnkept } from './unkept';

/** What has become of the press under way. */
enum Press {
  /** Nothing yet: a tap or a hold may come of it. */
  Fresh,
  /** It acted when it came. */
  Acted,
  /** It came too soon after the lamp to be meant. */
  Ignored,
}
let press: Press = Press.Fresh;
/** Where the evening stood when it came: a line may move it on while the foot is still down. */
let pressedIn: RunState = RunState.Rest;

/** After power-up; the storage is open and the settings are restored. */
export function startEvening(cause: i32, detail: i32, nowUs: i64): void {
  openOutbox();
  clearPanel();
  freshSituation();
  firstStrip();
  firstBracket();
  firstTests();
  noSheets();
  nothingToRead();
  noPaperOut();
  openBaths();
  forgetIncomingBaths();
  startProcessing();
  nothingUnkept();
  startLampControl();
  startPedal(nowUs);
  startKnob();
  startSound();
  stopTurning();
  startKeeping();
  press = Press.Fresh;
  planIsOld = false;
  logStarted(cause, detail, nowUs);
  rest(nowUs);
}

export function onGesture(gesture: Gesture, nowUs: i64): void {
  switch (gesture) {
    case Gesture.Press:
      overruleKnob();
      pressedIn = situation.state;
      press = nowUs < situation.deafUntilUs ? Press.Ignored : pressed(nowUs);
      break;
    case Gesture.Tap:
      if (press == Press.Fresh) tapped(nowUs);
      break;
    case Gesture.Hold:
      held(nowUs);
      break;
    case Gesture.Stuck:
      jam(nowUs);
      logPedalStuck(i32((nowUs - pressedAtUs) / 1000), nowUs);
      break;
    case Gesture.Release:
      if (situation.state == RunState.Stuck) rest(nowUs);
      break;
  }
}

function pressed(nowUs: i64): Press {
  if (situation.startWanted) {
    callOffStart();
    return Press.Acted;
  }
  switch (situation.state) {
    case RunState.Focus:
      leaveFocus(nowUs);
      return Press.Acted;
    case RunState.Exposing:
      pause(nowUs);
      return Press.Acted;
    case RunState.Ready:
      turningIsLogged(nowUs);
      logPass(nowUs);
      return Press.Fresh;
    case RunState.StepReady:
      turningIsLogged(nowUs);
      return Press.Fresh;
    default:
      return Press.Fresh;
  }
}

/** What the board went on to while the foot was down was not what the foot was told. */
function tapped(nowUs: i64): void {
  if (situation.state != pressedIn) return;
  switch (situation.state) {
    case RunState.Rest:
      next(nowUs);
      break;
    case RunState.Done:
      goOn(nowUs);
      break;
    case RunState.StepReady:
      startStep(nowUs);
      break;
    case RunState.Timing:
      if (situation.job == Job.Process) endStep(nowUs);
      break;
    case RunState.Ready:
    case RunState.Paused:
    case RunState.BetweenDodges:
      wantStart(nowUs);
      break;
    case RunState.Choosing:
      takeReading(nowUs);
      break;
  }
}

/** A hold always leads back to rest with the lamp off; only begun at rest does it light the lamp, to focus by. */
function held(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      if (press == Press.Fresh && pressedIn == RunState.Rest) focus(nowUs);
      break;
    case RunState.LensCheck:
      if (press == Press.Fresh) confirmLens(nowUs);
      break;
    case RunState.Ready:
    case RunState.Exposing:
    case RunState.Paused:
    case RunState.BetweenDodges:
    case RunState.StepReady:
    case RunState.Timing:
      backOut(nowUs);
      break;
    case RunState.Choosing:
    case RunState.Done:
      rest(nowUs);
      break;
  }
}

/** The lamp went off, as the board measured it. */
export function onLampEnded(onUs: u32, nowUs: i64): void {
  const was = lampIsOut(onUs, nowUs);
  if (was == Lit.Focus) focusEnded(onUs, nowUs);
  else if (was == Lit.Paper) pulseEnded(onUs, nowUs);
  if (situation.state != RunState.Exposing) lightRoom();
}

// What the line may ask and tell. Nothing of it lights the lamp.

export function runStateNow(): RunState {
  return situation.state;
}

export function chosenJob(): Job {
  return situation.job;
}

/** A text: the chosen recipe's name, or an empty one. */
export function chosenName(): usize {
  return jobName();
}

export function lensIsConfirmed(): bool {
  return situation.lensConfirmed;
}

export function pedalIsStuck(): bool {
  return pedalStuck;
}

/** True when nothing is lit nor about to be, so that the flash may take its time. */
export function eveningIsIdle(): bool {
  return (
    situation.state == RunState.Rest ||
    situation.state == RunState.LensCheck ||
    situation.state == RunState.Choosing ||
    situation.state == RunState.StepReady ||
    situation.state == RunState.Done
  );
}

function printIsUnderWay(): bool {
  return passIsUnderWay() || stepIsUnderWay() || lit == Lit.Paper;
}

/** Why nothing else may be chosen just now, an ErrorCode; or FINE. What is read on a sheet belongs to what is chosen. */
function choosingFault(): i32 {
  if (printIsUnderWay() || situation.state == RunState.Choosing) return ErrorCode.NotAllowed;
  return keepingRecipe ? ErrorCode.Busy : FINE;
}

/** What the pedal will start next; `name` (a text) matters for a recipe, and for a bracket, where empty is the one in use. */
export function chooseJob(job: Job, name: usize, nowUs: i64): i32 {
  const fault = choosingFault();
  if (fault != FINE) return fault;
  const isNamed = job == Job.Recipe || (job == Job.Bracket && !isEmptyText(name));
  const code = isNamed ? takeRecipe(name) : FINE;
  if (code != FINE) return code;
  forgetJobBefore();
  situation.job = job;
  planAnew(nowUs);
  return FINE;
}

/** The strip that the pedal will start next. An ErrorCode, or FINE. */
export function setStrip(from: StripSet, nowUs: i64): i32 {
  const fault = choosingFault();
  if (fault != FINE) return fault;
  takeStrip(from);
  return chooseJob(Job.Strip, jobName(), nowUs);
}

/** The laptop's time, for the log. An ErrorCode, or FINE. */
export function noteClock(epochMs: i64, nowUs: i64): i32 {
  return logClock(epochMs, nowUs) ? FINE : ErrorCode.Busy;
}

/** A setting was changed. */
export function settingsChanged(): void {
  planIsOld = true;
}

/** The shelf has another row of baths; a sheet that is done goes into that one. */
export function bathsReplaced(): void {
  useIncomingBaths();
  if (situation.state == RunState.Rest) planIsOld = true;
}

/** The shelf has the row with one bath mixed anew. */
export function bathIsMixed(nowUs: i64): void {
  useIncomingBaths();
  logMixed(mixedIndex, nowUs);
}

/** The shelf has a new version of the recipe of this name. */
export function recipeKept(name: usize): void {
  if (!hasRecipe() || !sameText(name, recipeBeginAt(activeRecipe).name)) return;
  takeAgainWhenPlanned();
  planIsOld = true;
}

/** Something changed that the plan and the panel's promise hang on; a print under way goes on as it began. */
let planIsOld: bool = false;

/** To be called after every event. */
export function refresh(nowUs: i64): void {
  if (!planIsOld || printIsUnderWay()) return;
  planIsOld = false;
  planAnew(nowUs);
}
