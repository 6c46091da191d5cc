/** A pass before and while it is given: its seconds and filter, and the rows of its kind of work; or what the knob is at. */
import { RunState } from '../generated/constants';
import { filterOfPass } from '../jobs/filters';
import { drawFigure, drawPassOf } from '../jobs/kinds-shown';
import { isOfRecipe, passLabel } from '../jobs/recipe/labels';
import { passNow, pieceNow } from '../plan/giving';
import { eveningPlan, Piece } from '../plan/plan';
import { ascii } from '../protocol/texts';
import { putCountdown, putOf, putSeconds } from '../rows/figures';
import { drawFilter } from '../rows/filter';
import { beginRow, put, putNumber, putText } from '../rows/row';
import { NEXT_PASS, NO_FIGURE } from '../state/chosen';
import { Lit } from '../state/light';
import { chosen, given, light, situation } from '../state/state';

export function drawPass(): void {
  const figure = chosen.figure;
  if (figure == NEXT_PASS) {
    drawNextPass();
    return;
  }
  if (figure != NO_FIGURE) {
    drawFigure(situation.job);
    return;
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

/** The knob goes along the passes. */
function drawNextPass(): void {
  putSeconds(passNow().doseMs);
  beginRow(2);
  if (isOfRecipe(given.pass)) putText(passLabel(given.pass));
  else drawWhichPatch(passNow().patch);
  beginRow(3);
  put(ascii('Knob: pass '));
  putOf(given.pass + 1, eveningPlan.passCount);
}

function drawWhichPatch(patch: i32): void {
  if (patch == 0) {
    put(ascii('To compare with'));
    return;
  }
  put(ascii('Patch '));
  putNumber(patch);
}
