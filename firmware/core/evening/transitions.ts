/** What happens on the way from one state of the evening to another. Which way is taken is in evening.ts. */
import { ExposureKind, Job, Outcome, RunState, SettingName } from '../generated/constants';
import { logExposureEnded, logFocus, logLens } from '../log/entries';
import { Begun, begun, noneBegun } from '../log/outbox';
import { drawPanel } from '../panel/panel';
import { LAMP_TEST_GAP_US } from '../plan/lamp-test-plan';
import { eveningPlan, SegmentKind } from '../plan/plan';
import { settingValue } from '../settings/settings';
import { Signal, signal } from '../sound/signals';
import { flashIsBusy } from '../storage/flash-queue';
import { setTimer, stopTimer, Timer } from '../timers/timers';
import { announceState } from './announce';
import { planJob } from './job';
import { Lit, lightFocus, lightPaper, lightRoom, lit, litSinceUs, putOut } from './lamp-control';
import { paperIsOut, paperIsTold } from './paper-out';
import {
  beginPass,
  bookLight,
  countPause,
  endOfPulse,
  isLastPulse,
  Left,
  nextPulseOnUs,
  passDoseUs,
  passIndex,
  passOnUs,
  pauses,
  pieceAfter,
  pieceEndsUs,
  pulseAgain,
  segmentIndex,
} from './pass';
import { followWithBaths, jobBeforeBaths, leaveBaths } from './processing';
import { beginReading, closingStops, sheetGiven, takeClosedLens, unreadJob } from './reading';
import { endSheet, nextSheet, sheetIsLit, sheetNumber } from './sheet';
import { Refusal, situation } from './situation';
import { breakOffStep, stepSecond, toBaths, toSafelight } from './steps';
import { takeChoice } from './take-choice';
import { stopTurning } from './turning';

/** A foot that started the lamp is not asked again so soon; nor can it have meant a lamp that just went out. */
const DEAF_US: i64 = 250_000;
const SECOND_US: i64 = 1_000_000;

export function enter(state: RunState, nowUs: i64): void {
  situation.state = state;
  stopTurning();
  stopTimer(Timer.Second);
  stopTimer(Timer.Segment);
  stopTimer(Timer.Pulse);
  situation.pulseDue = false;
  if (state != RunState.Exposing) lightRoom();
  announceState(nowUs);
  drawPanel(nowUs);
}

/** Plans what was chosen anew, and from `done` goes back to rest, since another sheet would be something else. */
export function planAnew(nowUs: i64): void {
  if (situation.state == RunState.Done) {
    rest(nowUs);
    return;
  }
  planJob();
  drawPanel(nowUs);
}

export function rest(nowUs: i64): void {
  situation.startWanted = false;
  leaveBaths();
  if (lit != Lit.Paper) planJob();
  enter(RunState.Rest, nowUs);
}

/** From rest on, or another sheet of the same. */
export function next(nowUs: i64): void {
  if (lit != Lit.No) return;
  if (!planJob()) {
    signal(Signal.Wrong, nowUs);
    rest(nowUs);
    return;
  }
  if (situation.job == Job.Process) {
    toBaths(nowUs);
    return;
  }
  if (!lensIsFine()) {
    enter(RunState.LensCheck, nowUs);
    return;
  }
  nextSheet();
  beginPass(0);
  enter(RunState.Ready, nowUs);
}

/** A sheet has all its light, or came through the baths: a tap goes on. */
export function goOn(nowUs: i64): void {
  if (bathsAreNext()) {
    followWithBaths();
    next(nowUs);
    return;
  }
  const isRead = sheetIsRead();
  leaveBaths();
  if (isRead) readSheet(nowUs);
  else next(nowUs);
}

/** What was given is to be developed, as far as the board knows. */
export function bathsAreNext(): bool {
  return situation.job != Job.Process && settingValue(SettingName.BathFollows) != 0;
}

/** Patches that went through the baths are looked at next. */
export function sheetIsRead(): bool {
  return situation.job == Job.Process && jobBeforeBaths != Job.None && unreadJob == jobBeforeBaths;
}

/** The knob goes along the patches of the sheet given last; what was chosen is what it was for. */
export function readSheet(nowUs: i64): void {
  situation.job = unreadJob;
  beginReading();
  enter(RunState.Choosing, nowUs);
}

/** What the knob has turned to is so. */
export function takeReading(nowUs: i64): void {
  if (closingStops != 0) takeClosedLens(nowUs);
  else if (takeChoice(nowUs)) {
    drawPanel(nowUs);
    return;
  }
  rest(nowUs);
}

export function lensIsFine(): bool {
  return situation.lensConfirmed || settingValue(SettingName.LensCheck) == 0;
}

export function focus(nowUs: i64): void {
  if (lit != Lit.No) return;
  situation.lensConfirmed = false;
  enter(RunState.Focus, nowUs);
  lightIfSafe(nowUs);
}

export function leaveFocus(nowUs: i64): void {
  putOut();
  afterFocus(nowUs);
}

export function focusEnded(onUs: u32, nowUs: i64): void {
  logFocus(onUs, nowUs);
  if (situation.state != RunState.Focus) return;
  situation.deafUntilUs = nowUs + DEAF_US;
  afterFocus(nowUs);
}

function afterFocus(nowUs: i64): void {
  if (lensIsFine()) rest(nowUs);
  else enter(RunState.LensCheck, nowUs);
}

export function confirmLens(nowUs: i64): void {
  situation.lensConfirmed = true;
  logLens(nowUs);
  rest(nowUs);
}

export function wantStart(nowUs: i64): void {
  situation.startWanted = true;
  lightIfSafe(nowUs);
  if (situation.startWanted) drawPanel(nowUs);
}

/** The flash is slow and the foot came again: then not. */
export function callOffStart(nowUs: i64): void {
  situation.startWanted = false;
  if (situation.state == RunState.Ready) endEntry(Outcome.Stopped);
  drawPanel(nowUs);
}

/** Lights the lamp that was asked for, as soon as the log's entry is in flash and the flash is at peace. */
export function lightIfSafe(nowUs: i64): void {
  if (lit != Lit.No || flashIsBusy()) return;
  if (situation.state == RunState.Focus) {
    lightFocus(nowUs);
    setTimer(Timer.Second, nowUs + SECOND_US);
    drawPanel(nowUs);
  } else if (situation.pulseDue) {
    situation.pulseDue = false;
    lightPaper(nextPulseOnUs(), nowUs);
    drawPanel(nowUs);
  } else if (situation.startWanted && begun == Begun.Safe) {
    startPulse(nowUs);
  } else if (situation.startWanted && begun == Begun.Failed) {
    refuseToStart(nowUs);
  }
}

function refuseToStart(nowUs: i64): void {
  noneBegun();
  signal(Signal.Wrong, nowUs);
  rest(nowUs);
  situation.refusal = Refusal.LogBroken;
  drawPanel(nowUs);
}

function startPulse(nowUs: i64): void {
  situation.startWanted = false;
  lightPaper(nextPulseOnUs(), nowUs);
  paperIsOut(sheetNumber, nowUs);
  situation.deafUntilUs = nowUs + DEAF_US;
  signal(isDodge(segmentIndex) ? Signal.DodgeIn : Signal.Start, nowUs);
  enter(RunState.Exposing, nowUs);
  setTimer(Timer.Second, nowUs + SECOND_US);
  setPieceTimer(nowUs);
}

/** For the end of the piece under way, unless the pulse ends there as well. */
function setPieceTimer(nowUs: i64): void {
  const piece = pieceAfter(u32(nowUs - litSinceUs));
  if (piece + 1 < endOfPulse()) setTimer(Timer.Segment, litSinceUs + pieceEndsUs);
  else stopTimer(Timer.Segment);
}

/** Timer.Pulse has come: the lamp has been off long enough between two pulses of one pass. */
export function onPulseDue(): void {
  stopTimer(Timer.Pulse);
  situation.pulseDue = true;
}

/** Timer.PaperOut has come. */
export function onPaperOut(nowUs: i64): void {
  if (paperIsTold(nowUs)) signal(Signal.Wrong, nowUs);
  drawPanel(nowUs);
}

/** Timer.Second has come. */
export function onSecond(nowUs: i64): void {
  setTimer(Timer.Second, nowUs + SECOND_US);
  if (situation.state == RunState.Timing) {
    stepSecond(nowUs);
    return;
  }
  if (situation.state == RunState.Exposing) signal(Signal.Second, nowUs);
  drawPanel(nowUs);
}

function isDodge(piece: i32): bool {
  return eveningPlan.segment(piece).kind == SegmentKind.Dodge;
}

/** Timer.Segment has come: the pulse runs on into its next piece. */
export function onNextPiece(nowUs: i64): void {
  setPieceTimer(nowUs);
  signal(isDodge(pieceAfter(u32(nowUs - litSinceUs))) ? Signal.DodgeIn : Signal.DodgeOut, nowUs);
  announceState(nowUs);
  drawPanel(nowUs);
}

export function pause(nowUs: i64): void {
  putOut();
  countPause();
  signal(Signal.End, nowUs);
  enter(RunState.Paused, nowUs);
}

/** Lamp off, the log keeps what was given, and back to rest. */
export function backOut(nowUs: i64): void {
  leavePass(nowUs);
  signal(Signal.End, nowUs);
  rest(nowUs);
}

/** The pedal sticks: lamp off, and nothing happens until it is let go and pressed anew. */
export function jam(nowUs: i64): void {
  leavePass(nowUs);
  signal(Signal.Wrong, nowUs);
  situation.startWanted = false;
  enter(RunState.Stuck, nowUs);
}

function leavePass(nowUs: i64): void {
  breakOffStep(nowUs);
  if (lit != Lit.No) putOut();
  if (lit == Lit.Paper) {
    situation.leaving = true;
    return;
  }
  endEntry(Outcome.Stopped);
  endSheet(Outcome.Stopped, nowUs);
}

export function pulseEnded(onUs: u32, nowUs: i64): void {
  const left = bookLight(onUs);
  sheetIsLit();
  if (situation.leaving) {
    passLeft(left, nowUs);
    return;
  }
  const byItself = situation.state == RunState.Exposing;
  if (left == Left.Nothing && pulseAgain()) {
    if (byItself) setTimer(Timer.Pulse, nowUs + LAMP_TEST_GAP_US);
    drawPanel(nowUs);
    return;
  }
  if (byItself) situation.deafUntilUs = nowUs + DEAF_US;
  if (byItself && left == Left.OfPulse) countPause();
  switch (left) {
    case Left.OfPulse:
      enter(RunState.Paused, nowUs);
      return;
    case Left.OfPass:
      signal(Signal.DodgeOut, nowUs);
      enter(RunState.BetweenDodges, nowUs);
      return;
    default:
      passGiven(nowUs);
      return;
  }
}

function passLeft(left: Left, nowUs: i64): void {
  situation.leaving = false;
  const isGiven = left == Left.Nothing && isLastPulse();
  endEntry(isGiven ? Outcome.Complete : Outcome.Stopped);
  const isWhole = isGiven && passIndex + 1 == eveningPlan.passCount;
  endSheet(isWhole ? Outcome.Complete : Outcome.Stopped, nowUs);
  planJob();
  drawPanel(nowUs);
}

function passGiven(nowUs: i64): void {
  endEntry(Outcome.Complete);
  if (passIndex + 1 == eveningPlan.passCount) {
    sheetGiven();
    endSheet(Outcome.Complete, nowUs);
    signal(Signal.Done, nowUs);
    enter(RunState.Done, nowUs);
    return;
  }
  const kind: ExposureKind = eveningPlan.pass(passIndex).kind;
  const isOfPrint = kind == ExposureKind.Base || kind == ExposureKind.Burn;
  signal(isOfPrint ? Signal.End : Signal.MoveCard, nowUs);
  if (kind == ExposureKind.Safelight) {
    toSafelight(nowUs);
    return;
  }
  beginPass(passIndex + 1);
  enter(RunState.Ready, nowUs);
}

function endEntry(outcome: Outcome): void {
  if (begun == Begun.None) return;
  if (begun != Begun.Failed) logExposureEnded(passOnUs, passDoseUs, outcome, pauses);
  noneBegun();
}
