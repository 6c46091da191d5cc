/** Tells a laptop that watches where the evening stands. */
import { bathAt, bathRow } from '../baths/baths';
import { Job, RunState } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { noticeMoved } from '../protocol/notices';
import { pieceLabel } from './labels';
import { Lit, lit, litSinceUs } from './lamp-control';
import { passIndex, pieceAfter, restOfPassMs, segmentIndex } from './pass';
import { bathIndex } from './processing';
import { situation } from './situation';
import { elapsedSeconds, stepSeconds } from './steps';

const NO_LABEL: usize = memory.data(1);

/** As it was told last. */
let stateTold: RunState = RunState.Rest;
let placeTold: i32 = 0;
let restTold: i32 = 0;

/** To be asked once after everything that happened. A pause is told again when the board has measured its light. */
export function announceMoves(nowUs: i64): void {
  const place = placeNow();
  const rest = situation.state == RunState.Paused ? restOfPassMs() : 0;
  if (situation.state == stateTold && place == placeTold && rest == restTold) return;
  stateTold = situation.state;
  placeTold = place;
  restTold = rest;
  announceState(nowUs);
}

/** Which bath, or which pass and piece of it. */
function placeNow(): i32 {
  if (stepIsUnderWay()) return bathIndex;
  return passIsUnderWay() ? (passIndex << 8) | pieceNow() : 0;
}

function announceState(nowUs: i64): void {
  if (stepIsUnderWay()) {
    const remainingMs = (stepSeconds() - elapsedSeconds) * 1000;
    noticeMoved(situation.state, 0, 0, stepLabel(), remainingMs, nowUs);
    return;
  }
  if (!passIsUnderWay()) {
    noticeMoved(situation.state, 0, 0, NO_LABEL, 0, nowUs);
    return;
  }
  const piece = pieceNow();
  const pieceInPass = piece - eveningPlan.pass(passIndex).firstSegment + 1;
  noticeMoved(situation.state, passIndex + 1, pieceInPass, pieceLabel(piece), restOfPassMs(), nowUs);
}

/** The piece being given, or the next one. */
export function pieceNow(): i32 {
  return lit == Lit.Paper ? pieceAfter(u32(situation.toldUs - litSinceUs)) : segmentIndex;
}

/** A bath, or the safelight's minutes. */
export function stepIsUnderWay(): bool {
  return situation.state == RunState.StepReady || situation.state == RunState.Timing;
}

/** Empty for the safelight's minutes. */
function stepLabel(): usize {
  return situation.job == Job.Process ? bathAt(bathRow, bathIndex).label : NO_LABEL;
}

export function passIsUnderWay(): bool {
  switch (situation.state) {
    case RunState.Ready:
    case RunState.Exposing:
    case RunState.Paused:
    case RunState.BetweenDodges:
      return true;
    default:
      return false;
  }
}
