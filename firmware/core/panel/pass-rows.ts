/** A pass before and while it is given: its seconds and filter, and the rows of its kind of work; or what the knob is at. */
import { Asked, askedBeforeLight } from '../evening/what-is-asked';
import { RunState } from '../generated/constants';
import { filterOfPass } from '../jobs/filters';
import { drawFigure, drawPassOf } from '../jobs/kinds-shown';
import { passNow, pieceNow } from '../plan/giving';
import { eveningPlan, Piece } from '../plan/plan';
import { ascii } from '../protocol/texts';
import { putCountdown, putOf, putSeconds } from '../rows/figures';
import { drawFilter } from '../rows/filter';
import { put, putNumber } from '../rows/row';
import { NO_FIGURE } from '../state/chosen';
import { Lit } from '../state/light';
import { chosen, given, light, situation } from '../state/state';
import { drawAsked } from './asked-rows';

export function drawPass(): void {
  if (situation.state == RunState.Ready) {
    const asked = askedBeforeLight();
    if (asked == Asked.Figure || (asked == Asked.Nothing && chosen.figure != NO_FIGURE)) {
      drawFigure(situation.job);
      return;
    }
    if (asked != Asked.Nothing) {
      drawAsked(asked);
      return;
    }
  }
  const piece = eveningPlan.piece(pieceNow());
  if (isPulsing()) drawPulses(piece);
  else if (light.lit == Lit.Paper) putCountdown(light.sinceUs + given.pieceEndsUs - situation.toldUs);
  else putSeconds(i32((piece.restUs + 500) / 1000));
  drawFilter(filterOfPass(given.pass));
  drawPassOf(situation.job);
}

function isPulsing(): bool {
  return passNow().pulses > 1;
}

/** Before the first pulse how many and how long, then which one. */
function drawPulses(piece: Piece): void {
  const pulses = i32(passNow().pulses);
  if (situation.state == RunState.Ready) {
    putNumber(pulses);
    put(ascii(' x '));
    putSeconds(piece.doseMs);
    return;
  }
  put(ascii('Pulse '));
  putOf(given.pulse, pulses);
}
