/** Tells a laptop that watches where the evening stands. */
import { RunState } from '../generated/constants';
import { stepSeconds } from '../jobs/kinds';
import { stepLabel } from '../jobs/kinds-shown';
import { NO_TEXT, pieceLabel } from '../jobs/recipe/labels';
import { passNow, pieceNow, restOfPassMs } from '../plan/giving';
import { noticeMoved } from '../protocol/notices';
import { given, situation, timed, told } from '../state/state';

/** To be asked once after everything that happened. A pause is told again when the board has measured its light. */
export function announceMoves(nowUs: i64): void {
  const place = placeNow();
  const state = situation.state;
  const restMs = state == RunState.Paused ? restOfPassMs() : 0;
  if (state == told.laptopState && place == told.laptopPlace && restMs == told.laptopRestMs) return;
  told.laptopState = state;
  told.laptopPlace = place;
  told.laptopRestMs = restMs;
  announceState(nowUs);
}

/** Which bath, and whether the first tone has made its time another; or which pass and piece of it. */
function placeNow(): i32 {
  if (situation.isStep()) return timed.bath | (timed.firstToneMs == 0 ? 0 : 0x100);
  return situation.isPass() ? (given.pass << 8) | pieceNow() : 0;
}

function announceState(nowUs: i64): void {
  if (situation.isStep()) {
    const remainingMs = (stepSeconds(situation.job) - timed.elapsedSeconds) * 1000;
    noticeMoved(situation.state, 0, 0, stepLabel(situation.job), remainingMs, nowUs);
    return;
  }
  if (!situation.isPass()) {
    noticeMoved(situation.state, 0, 0, NO_TEXT, 0, nowUs);
    return;
  }
  const piece = pieceNow();
  const pieceInPass = piece - passNow().firstPiece + 1;
  noticeMoved(situation.state, given.pass + 1, pieceInPass, pieceLabel(piece), restOfPassMs(), nowUs);
}
