/** A print on the panel: at rest, at the knob's figures, and pass by pass. */
import { isDodge, passNow, pieceNow } from '../../plan/giving';
import { eveningPlan } from '../../plan/plan';
import { ascii } from '../../protocol/texts';
import { activeRecipe, nameInUse, recipeBeginAt, recipeDodgeAt, recipeHeadAt } from '../../recipe/recipe';
import { putOf, putSeconds, putSignedStops } from '../../rows/figures';
import { beginRow, put, putText } from '../../rows/row';
import { Lit } from '../../state/light';
import { chosen, given, keeping, light } from '../../state/state';
import { putAgainOrRest } from '../again-or-rest';
import { isBurn, passLabel, pieceLabel } from './labels';
import {
  figureDodgeIndex,
  isBaseTurned,
  PrintFigure,
  printFigureFine3M,
  printFigureValue,
} from './print-figures';

export function drawBase(): void {
  putSeconds(recipeHeadAt(activeRecipe).baseMs);
  put(ascii(' base'));
}

export function drawRecipeName(): void {
  putText(nameInUse());
}

/** Whether the shelf has the recipe as it is. */
export function drawUnkept(): void {
  if (keeping.recipe) put(ascii('Keeping recipe ...'));
  else if (chosen.recipeIsChanged) put(ascii('Hold knob: keep it'));
}

export function drawPrintFigure(): void {
  if (isBaseTurned()) {
    putSeconds(printFigureValue());
    drawFigureOf(recipeBeginAt(activeRecipe).name);
    put(chosen.figure == PrintFigure.Base ? ascii('Knob: whole recipe') : ascii('Knob: base, seconds'));
    return;
  }
  putSignedStops(printFigureValue(), printFigureFine3M());
  put(ascii(' stop '));
  if (chosen.figure == PrintFigure.Dodge) {
    drawFigureOf(recipeDodgeAt(activeRecipe, figureDodgeIndex()).label);
    put(ascii('Knob: this dodge'));
    return;
  }
  drawFigureOf(passLabel(chosen.figurePass));
  put(isBurn(chosen.figurePass) ? ascii('Knob: this burn') : ascii('Knob: this pass'));
}

/** Row 2 is the text; row 3 is next. */
function drawFigureOf(text: usize): void {
  beginRow(2);
  putText(text);
  beginRow(3);
}

/** The pass and its piece that is next or under way, in rows 2 and 3. */
export function drawPrintPass(): void {
  const piece = pieceNow();
  beginRow(2);
  putText(pieceLabel(piece));
  beginRow(3);
  if (light.lit == Lit.Paper && isDodgeNext(piece)) {
    put(ascii('Next: '));
    putText(pieceLabel(piece + 1));
    return;
  }
  if (isDodge(piece)) {
    put(ascii('Dodge '));
    putOf(eveningPlan.piece(piece).dodge + 1, passNow().dodgeCount);
    put(passNow().dodgeCount > 9 ? ascii(', ') : ascii(' pass '));
  } else {
    put(isBurn(given.pass) ? ascii('Burn, pass ') : ascii('Base, pass '));
  }
  putOf(given.pass + 1, eveningPlan.passCount);
  if (!isDodge(piece)) putAgainOrRest();
}

/** Another hand goes into the light of the same pass. */
function isDodgeNext(piece: i32): bool {
  const pass = passNow();
  return piece + 1 < i32(pass.firstPiece) + pass.pieceCount && isDodge(piece + 1);
}
