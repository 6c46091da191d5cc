/** Light on the paper, from the pedal's wish for it to the end of the sheet; what follows is in transitions.ts. */
import { ExposureKind, Outcome, RunState } from '../generated/constants';
import { logExposureEnded } from '../log/entries';
import { Begun, begun, noneBegun } from '../log/outbox';
import { LAMP_TEST_GAP_US } from '../plan/lamp-test-plan';
import { eveningPlan } from '../plan/plan';
import { flashIsBusy } from '../storage/flash-queue';
import { setTimer, stopTimer, Timer } from '../timers/timers';
import { planJob } from './job';
import { Lit, lightFocus, lightPaper, lit, litSinceUs, putOut } from './lamp-control';
import { paperIsOut } from './paper-out';
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
} from './pass';
import { sheetGiven } from './reading';
import { endSheet, sheetIsLit, sheetNumber } from './sheet';
import { Due, Refusal, situation } from './situation';
import { breakOffStep, toSafelight } from './steps';
import { DEAF_US, enter, rest, SECOND_US } from './transitions';

export function wantStart(nowUs: i64): void {
  situation.startWanted = true;
  lightIfSafe(nowUs);
}

/** The flash is slow and the foot came again: then not. */
export function callOffStart(): void {
  situation.startWanted = false;
  if (situation.state == RunState.Ready) endEntry(Outcome.Stopped);
}

/** Lights the lamp that was asked for, as soon as the log's entry is in flash and the flash is at peace. */
export function lightIfSafe(nowUs: i64): void {
  if (lit != Lit.No || flashIsBusy()) return;
  if (situation.state == RunState.Focus) {
    lightFocus(nowUs);
    situation.toldUs = nowUs;
    setTimer(Timer.Second, nowUs + SECOND_US);
  } else if (situation.pulseDue) {
    situation.pulseDue = false;
    lightPaper(nextPulseOnUs(), nowUs);
  } else if (situation.startWanted && begun == Begun.Safe) {
    startPulse(nowUs);
  } else if (situation.startWanted && begun == Begun.Failed) {
    refuseToStart(nowUs);
  }
}

function refuseToStart(nowUs: i64): void {
  noneBegun();
  situation.due = Due.Wrong;
  rest(nowUs);
  situation.refusal = Refusal.LogBroken;
}

function startPulse(nowUs: i64): void {
  situation.startWanted = false;
  lightPaper(nextPulseOnUs(), nowUs);
  paperIsOut(sheetNumber, nowUs);
  situation.deafUntilUs = nowUs + DEAF_US;
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

/** Timer.Segment has come: the pulse runs on into its next piece. */
export function onNextPiece(nowUs: i64): void {
  setPieceTimer(nowUs);
  situation.toldUs = nowUs;
}

export function pause(nowUs: i64): void {
  putOut();
  countPause();
  situation.due = Due.End;
  enter(RunState.Paused, nowUs);
}

/** Lamp off, the log keeps what was given, and back to rest. */
export function backOut(nowUs: i64): void {
  leavePass(nowUs);
  rest(nowUs);
}

/** The pedal sticks: lamp off, and nothing happens until it is let go and pressed anew. */
export function jam(nowUs: i64): void {
  leavePass(nowUs);
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
    return;
  }
  if (byItself) situation.deafUntilUs = nowUs + DEAF_US;
  if (byItself && left == Left.OfPulse) countPause();
  switch (left) {
    case Left.OfPulse:
      enter(RunState.Paused, nowUs);
      return;
    case Left.OfPass:
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
}

function passGiven(nowUs: i64): void {
  endEntry(Outcome.Complete);
  if (passIndex + 1 == eveningPlan.passCount) {
    sheetGiven();
    endSheet(Outcome.Complete, nowUs);
    enter(RunState.Done, nowUs);
    return;
  }
  if (eveningPlan.pass(passIndex).kind == ExposureKind.Safelight) {
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
