/**
 * What is heard after an event, worked out from where the evening stood before it and where it stands now. What
 * happens within one state is told by `situation.due`; everything else is a way from one state to another.
 */

import { ExposureKind, RunState } from '../generated/constants';
import { stepMove } from '../jobs/kinds';
import { Move } from '../jobs/moves';
import { isDodge, pieceNow } from '../plan/giving';
import { eveningPlan } from '../plan/plan';
import { Due } from '../state/situation';
import { given, situation, timed, told } from '../state/state';
import { play, Signal } from './signals';

/** To be asked once after everything that happened, at its own time. */
export function soundWhatHappened(nowUs: i64): void {
  const due = situation.due;
  const what = due == Due.Nothing ? ofStates(told.heardState, situation.state) : ofDue(due);
  situation.due = Due.Nothing;
  told.heardState = situation.state;
  told.heardPiece = pieceNow();
  told.heardPass = given.pass;
  told.heardSeconds = timed.elapsedSeconds;
  if (what != Signal.None) play(what, nowUs);
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

function ofStates(was: RunState, state: RunState): Signal {
  switch (state) {
    case RunState.Stuck:
      return was == RunState.Stuck ? Signal.None : Signal.Wrong;
    case RunState.Exposing:
      return inLight(was);
    case RunState.BetweenDodges:
      return was == RunState.BetweenDodges ? Signal.None : Signal.DodgeOut;
    case RunState.Timing:
      return inStep(was);
    case RunState.Ready:
    case RunState.StepReady:
      return passOrStepGiven(was, state);
    case RunState.Done:
      return isLight(was) || was == RunState.Timing ? Signal.Done : Signal.None;
    case RunState.Rest:
      return isWork(was) ? Signal.End : Signal.None;
    default:
      return Signal.None;
  }
}

/** The light began, or runs on into a dodge or out of one. */
function inLight(was: RunState): Signal {
  const piece = pieceNow();
  if (was != RunState.Exposing) return isDodge(piece) ? Signal.DodgeIn : Signal.Start;
  if (piece == told.heardPiece) return Signal.None;
  return isDodge(piece) ? Signal.DodgeIn : Signal.DodgeOut;
}

function inStep(was: RunState): Signal {
  if (was != RunState.Timing) return Signal.Start;
  if (timed.elapsedSeconds == told.heardSeconds) return Signal.None;
  switch (stepMove(situation.job)) {
    case Move.Card:
      return Signal.MoveCard;
    case Move.Agitate:
      return Signal.Agitate;
    case Move.Lift:
      return Signal.Lift;
    default:
      return Signal.None;
  }
}

function passOrStepGiven(was: RunState, state: RunState): Signal {
  if (was == RunState.Timing) return state == RunState.StepReady ? Signal.End : Signal.MoveCard;
  if (!isLight(was)) return Signal.None;
  const kind: ExposureKind = eveningPlan.pass(told.heardPass).kind;
  return kind == ExposureKind.Base || kind == ExposureKind.Burn ? Signal.End : Signal.MoveCard;
}

/** A pause may turn out to have come when the pass had all its light. */
function isLight(was: RunState): bool {
  return was == RunState.Exposing || was == RunState.Paused;
}

/** Something was under way, and the printer backed out of it. */
function isWork(was: RunState): bool {
  switch (was) {
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
