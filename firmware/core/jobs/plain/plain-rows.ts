/** A plain exposure on the panel: at rest, at the knob's figures, and while it is given. */
import { RunState } from '../../generated/constants';
import { ascii, sameText } from '../../protocol/texts';
import {
  activeRecipe,
  isAtBase,
  nameInUse,
  recipeBeginAt,
  recipeHeadAt,
  recipePassAt,
} from '../../recipe/recipe';
import { putSeconds } from '../../rows/figures';
import { drawFilter } from '../../rows/filter';
import { beginRow, put, putText } from '../../rows/row';
import { chosen, keeping, situation } from '../../state/state';
import { PlainFigure, plainFilter } from './plain-light';

export function drawPlainTime(): void {
  putSeconds(chosen.plainMs);
  drawFilter(plainFilter());
}

export function drawPlain(): void {
  put(ascii('Plain exposure'));
}

export function drawPlainNote(): void {
  put(ascii('Push knob: a strip'));
}

/** It has had its light: whether it is kept, and under which name. */
export function drawPlainDone(): void {
  if (keeping.recipe) put(ascii('Keeping recipe ...'));
  else if (isKept()) putText(nameInUse());
  else put(ascii('Hold knob: keep it'));
}

/** The recipe in use is this time under this filter and nothing else, as the shelf has it. */
function isKept(): bool {
  if (chosen.recipeIsChanged || i32(recipeBeginAt(activeRecipe).passes) != 1) return false;
  const pass = recipePassAt(activeRecipe, 0);
  return (
    i32(recipeHeadAt(activeRecipe).baseMs) == chosen.plainMs &&
    isAtBase(activeRecipe, 0) &&
    i32(pass.dodges) == 0 &&
    sameText(pass.filter, plainFilter())
  );
}

export function drawPlainFigure(): void {
  drawPlainTime();
  beginRow(2);
  drawPlain();
  beginRow(3);
  put(figureWords());
}

function figureWords(): usize {
  switch (chosen.figure) {
    case PlainFigure.Filter:
      return ascii('Knob: filter');
    case PlainFigure.Stops:
      return ascii('Knob: time in stops');
    default:
      return ascii('Knob: time, seconds');
  }
}

/** In rows 2 and 3. */
export function drawPlainPass(): void {
  beginRow(2);
  drawPlain();
  beginRow(3);
  if (situation.state == RunState.Ready) put(ascii('Knob: time or filter'));
}
