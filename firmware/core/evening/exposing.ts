/** Light on the paper, from the pedal's wish for it to the end of the sheet; what follows is in transitions.ts. */
import { Job, Outcome, RunState } from '../generated/constants';
import { isRead, keepToRead, staysOut, stepFollows } from '../jobs/kinds';
import { takePaperOut } from '../jobs/paper-out';
import { logExposureEnded } from '../log/entries';
import { Begun, begun, forgetBegun } from '../log/outbox';
import {
  beginPass,
  beginPulseAgain,
  bookLight,
  endOfPulse,
  isLastPass,
  isLastPulse,
  Left,
  markPassGiven,
  nextPulseOnUs,
  passDueAfter,
  pieceAt,
} from '../plan/giving';
import { PULL_IN_GAP_US, PULSE_GAP_US } from '../plan/pulses';
import { Lit } from '../state/light';
import { Due, Refusal } from '../state/situation';
import { given, light, paper, reading, situation } from '../state/state';
import { flashIsBusy } from '../storage/flash-queue';
import { setTimer, stopTimer, Timer } from '../timers/timers';
import { DEAF_US, enter, goToRest, SECOND_US } from './enter';
import { lampWarmth, lightFocus, lightPaper, putOut } from './lamp-control';
import { forgetLeftSheet, leaveSheet } from './left-sheet';
import { planJob } from './planned-job';
import { endSheet, noteFilter, takeUnlitSheetBack } from './sheet';
import { breakOffStep, prepareStep } from './steps';

export function askForLight(nowUs: i64): void {
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
  if (light.lit != Lit.No || flashIsBusy()) return;
  if (situation.state == RunState.Focus) {
    lightFocus(nowUs);
    situation.toldUs = nowUs;
    setTimer(Timer.Second, nowUs + SECOND_US);
  } else if (situation.pulseDue) {
    situation.pulseDue = false;
    lightPaper(nextPulseOnUs(lampWarmth(nowUs)), nowUs);
  } else if (situation.startWanted && begun == Begun.Safe) {
    startPulse(nowUs);
  } else if (situation.startWanted && begun == Begun.Failed) {
    refuseToStart(nowUs);
  }
}

function refuseToStart(nowUs: i64): void {
  forgetBegun();
  situation.due = Due.Wrong;
  goToRest(nowUs);
  situation.refusal = Refusal.LogBroken;
}

function startPulse(nowUs: i64): void {
  situation.startWanted = false;
  noteFilter();
  lightPaper(nextPulseOnUs(lampWarmth(nowUs)), nowUs);
  if (!staysOut(situation.job)) takePaperOut(nowUs);
  situation.deafUntilUs = nowUs + DEAF_US;
  enter(RunState.Exposing, nowUs);
  setTimer(Timer.Second, nowUs + SECOND_US);
  setPieceTimer(nowUs);
}

/** For the end of the piece under way, unless the pulse ends there as well. */
function setPieceTimer(nowUs: i64): void {
  const piece = pieceAt(u32(nowUs - light.sinceUs));
  if (piece + 1 < endOfPulse()) setTimer(Timer.Piece, light.sinceUs + given.pieceEndsUs);
  else stopTimer(Timer.Piece);
}

/** Timer.Pulse has come: the lamp has been off long enough between two pulses of one pass. */
export function onPulseDue(): void {
  stopTimer(Timer.Pulse);
  situation.pulseDue = true;
}

/** Timer.Piece has come: the pulse runs on into its next piece. */
export function onNextPiece(nowUs: i64): void {
  setPieceTimer(nowUs);
  situation.toldUs = nowUs;
}

export function pause(nowUs: i64): void {
  putOut();
  given.pauses++;
  situation.due = Due.End;
  enter(RunState.Paused, nowUs);
}

/** Lamp off, the log keeps what was given, and back to rest. */
export function backOut(nowUs: i64): void {
  leavePass(nowUs);
  goToRest(nowUs);
}

/** The pedal sticks: lamp off, and nothing happens until it is let go and pressed anew. */
export function jam(nowUs: i64): void {
  leavePass(nowUs);
  situation.startWanted = false;
  enter(RunState.Stuck, nowUs);
}

function leavePass(nowUs: i64): void {
  breakOffStep(nowUs);
  if (light.lit != Lit.No) putOut();
  if (light.lit == Lit.Paper) {
    situation.leaving = true;
    return;
  }
  endEntry(Outcome.Stopped);
  if (situation.isPass() && paper.isOpen && paper.isLit) leaveSheet();
  endSheet(Outcome.Stopped, nowUs);
  takeUnlitSheetBack(nowUs);
}

export function endPulse(onUs: u32, nowUs: i64): void {
  const left = bookLight(onUs);
  paper.isLit = true;
  forgetLeftSheet();
  if (situation.leaving) {
    endPassLeft(left, nowUs);
    return;
  }
  const byItself = situation.state == RunState.Exposing;
  if (left == Left.Nothing && beginPulseAgain()) {
    if (byItself) setTimer(Timer.Pulse, nowUs + pulseGapUs());
    return;
  }
  if (byItself) situation.deafUntilUs = nowUs + DEAF_US;
  if (byItself && left == Left.OfPulse) given.pauses++;
  switch (left) {
    case Left.OfPulse:
      enter(RunState.Paused, nowUs);
      return;
    case Left.OfPass:
      enter(RunState.BetweenDodges, nowUs);
      return;
    default:
      endPass(nowUs);
      return;
  }
}

/** A relay with no lamp at it needs not wait for a filament to go cold. */
function pulseGapUs(): i64 {
  return situation.job == Job.Checkup ? PULL_IN_GAP_US : PULSE_GAP_US;
}

function endPassLeft(left: Left, nowUs: i64): void {
  situation.leaving = false;
  const isGiven = left == Left.Nothing && isLastPulse();
  if (isGiven) markPassGiven();
  endEntry(isGiven ? Outcome.Complete : Outcome.Stopped);
  const isComplete = isGiven && isLastPass();
  if (!isComplete && paper.isOpen) {
    if (isGiven) beginPass(passDueAfter());
    else if (left == Left.Nothing) beginPulseAgain();
    leaveSheet();
  }
  endSheet(isComplete ? Outcome.Complete : Outcome.Stopped, nowUs);
  planJob();
}

function endPass(nowUs: i64): void {
  endEntry(Outcome.Complete);
  markPassGiven();
  if (isLastPass()) {
    finishSheet(nowUs);
    return;
  }
  if (stepFollows(situation.job)) {
    prepareStep(nowUs);
    return;
  }
  beginPass(passDueAfter());
  enter(RunState.Ready, nowUs);
}

/** It has had all its light, or the printer says that it has. */
export function finishSheet(nowUs: i64): void {
  rememberToRead();
  endSheet(Outcome.Complete, nowUs);
  enter(situation.job == Job.Checkup ? RunState.Asking : RunState.Done, nowUs);
}

/** A sheet has had all its light: what has patches is to be read. */
function rememberToRead(): void {
  if (!isRead(situation.job)) return;
  reading.unread = situation.job;
  reading.sheet = paper.sheet;
  keepToRead(situation.job);
}

function endEntry(outcome: Outcome): void {
  if (begun == Begun.None) return;
  if (begun != Begun.Failed) logExposureEnded(given.onUs, given.doseUs, outcome, given.pauses);
  forgetBegun();
}
