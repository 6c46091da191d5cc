/**
 * What is heard after an event, worked out from where the evening stood before it and where it stands now. What
 * happens within one state is told by `situation.due`; everything else is a way from one state to another.
 */

import { pieceNow } from '../evening/announce';
import { isDodge, passIndex } from '../evening/pass';
import { agitatesAt, liftSeconds } from '../evening/processing';
import { Due, situation } from '../evening/situation';
import { bandMoves, elapsedSeconds } from '../evening/steps';
import { ExposureKind, Job, RunState } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { Signal, signal } from './signals';

/** As it was when it was last asked what sounds. */
let stateBefore: RunState = RunState.Rest;
let pieceBefore: i32 = 0;
let passBefore: i32 = 0;
let secondsBefore: i32 = 0;

/** To be asked once after everything that happened, at its own time. */
export function soundOccasion(nowUs: i64): void {
  const due = situation.due;
  const what = due == Due.Nothing ? ofStates() : ofDue(due);
  situation.due = Due.Nothing;
  stateBefore = situation.state;
  pieceBefore = pieceNow();
  passBefore = passIndex;
  secondsBefore = elapsedSeconds;
  if (what != Signal.None) signal(what, nowUs);
}

function ofDue(due: Due): Signal {
  switch (due) {
    case Due.Second:
      return Signal.Second;
    case Due.End:
      return Signal.End;
    default:
      return Signal.Wrong;
  }
}

function ofStates(): Signal {
  switch (situation.state) {
    case RunState.Stuck:
      return stateBefore == RunState.Stuck ? Signal.None : Signal.Wrong;
    case RunState.Exposing:
      return inLight();
    case RunState.BetweenDodges:
      return stateBefore == RunState.BetweenDodges ? Signal.None : Signal.DodgeOut;
    case RunState.Timing:
      return inStep();
    case RunState.Ready:
    case RunState.StepReady:
      return passOrStepOver();
    case RunState.Done:
      return wasLit() || stateBefore == RunState.Timing ? Signal.Done : Signal.None;
    case RunState.Rest:
      return wasAtWork() ? Signal.End : Signal.None;
    default:
      return Signal.None;
  }
}

/** The light began, or runs on into a dodge or out of one. */
function inLight(): Signal {
  const piece = pieceNow();
  if (stateBefore != RunState.Exposing) return isDodge(piece) ? Signal.DodgeIn : Signal.Start;
  if (piece == pieceBefore) return Signal.None;
  return isDodge(piece) ? Signal.DodgeIn : Signal.DodgeOut;
}

function inStep(): Signal {
  if (stateBefore != RunState.Timing) return Signal.Start;
  if (elapsedSeconds == secondsBefore) return Signal.None;
  if (situation.job != Job.Process) return bandMoves() ? Signal.MoveCard : Signal.None;
  if (elapsedSeconds == liftSeconds()) return Signal.Lift;
  return agitatesAt(elapsedSeconds) ? Signal.Agitate : Signal.None;
}

function passOrStepOver(): Signal {
  if (stateBefore == RunState.Timing) return situation.job == Job.Process ? Signal.End : Signal.MoveCard;
  if (!wasLit()) return Signal.None;
  const kind: ExposureKind = eveningPlan.pass(passBefore).kind;
  return kind == ExposureKind.Base || kind == ExposureKind.Burn ? Signal.End : Signal.MoveCard;
}

/** A pause may turn out to have come when the pass had all its light. */
function wasLit(): bool {
  return stateBefore == RunState.Exposing || stateBefore == RunState.Paused;
}

/** Something was under way, and the printer backed out of it. */
function wasAtWork(): bool {
  switch (stateBefore) {
    case RunState.Ready:
    case RunState.Exposing:
    case RunState.Paused:
    case RunState.BetweenDodges:
    case RunState.StepReady:
    case RunState.Timing:
      return true;
    default:
      return false;
  }
}
