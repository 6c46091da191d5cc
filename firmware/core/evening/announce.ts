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

export function announceState(nowUs: i64): void {
  if (stepIsUnderWay()) {
    const remainingMs = (stepSeconds() - elapsedSeconds) * 1000;
    noticeMoved(situation.state, 0, 0, stepLabel(), remainingMs, nowUs);
    return;
  }
  if (!passIsUnderWay()) {
    noticeMoved(situation.state, 0, 0, NO_LABEL, 0, nowUs);
    return;
  }
  const piece = pieceNow(nowUs);
  const pieceInPass = piece - eveningPlan.pass(passIndex).firstSegment + 1;
  noticeMoved(situation.state, passIndex + 1, pieceInPass, pieceLabel(piece), restOfPassMs(), nowUs);
}

/** The piece being given, or the next one. */
export function pieceNow(nowUs: i64): i32 {
  return lit == Lit.Paper ? pieceAfter(u32(nowUs - litSinceUs)) : segmentIndex;
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
