/** Tells a laptop that watches where the evening stands. */
import { RunState } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { noticeMoved } from '../protocol/notices';
import { pieceLabel } from './labels';
import { Lit, lit, litSinceUs } from './lamp-control';
import { passIndex, pieceAfter, restOfPassMs, segmentIndex } from './pass';
import { situation } from './situation';

export function announceState(nowUs: i64): void {
  if (!passIsUnderWay()) {
    noticeMoved(situation.state, 0, 0, 0, 0, nowUs);
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
