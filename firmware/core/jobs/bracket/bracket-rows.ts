/** A bracket on the panel: at rest, at the knob's figures, variant by variant, and while it is read. */

import { ExposureKind } from '../../generated/constants';
import { passNow } from '../../plan/giving';
import { eveningPlan } from '../../plan/plan';
import { ascii } from '../../protocol/texts';
import { activeRecipe, passFine3M, recipePassAt } from '../../recipe/recipe';
import { putOf, putSignedStops } from '../../rows/figures';
import { beginRow, put, putByte, putText } from '../../rows/row';
import { bracketSpread, chosen, given, reading } from '../../state/state';
import { putAgainOrRest } from '../again-or-rest';
import { drawPatchRead } from '../patch-rows';
import { isFound } from '../patches';
import { isBurn, passLabel } from '../recipe/labels';
import { drawPrintPass } from '../recipe/print-rows';
import { SpreadFigure } from '../spread-figures';
import { drawCard, drawSpread, drawSpreadFigure, spreadFigureWords } from '../spread-rows';
import { variantReadStops120 } from './bracket-reading';

export function drawBracket(): void {
  drawSpread(bracketSpread, ascii(' variants, '));
}

/** Which pass of the recipe it is about. */
export function drawBracketNote(): void {
  put(ascii('of '));
  drawAim();
}

function drawAim(): void {
  putText(recipePassAt(activeRecipe, chosen.bracketPass).label);
}

export function drawBracketFigure(): void {
  if (chosen.figure == SpreadFigure.About) drawAim();
  else drawSpreadFigure(bracketSpread);
  beginRow(2);
  drawBracket();
  beginRow(3);
  put(spreadFigureWords(ascii('Knob: which pass')));
}

/** "Burn 3/7: 2/5 sky": the pass of the sheet, then the variant. The other passes of the recipe are given as they are. */
export function drawBracketPass(): void {
  if (passNow().kind != ExposureKind.Bracket) {
    drawPrintPass();
    return;
  }
  drawCard(bracketSpread, ascii('Uncover whole sheet'));
  put(isBurn(given.pass) ? ascii('Burn ') : ascii('Base '));
  putOf(given.pass + 1, eveningPlan.passCount);
  put(ascii(': '));
  putOf(passNow().patch, bracketSpread.patches);
  if (putAgainOrRest()) return;
  putByte(0x20);
  putText(passLabel(given.pass));
}

export function drawBracketReading(): void {
  if (isFound()) {
    putSignedStops(variantReadStops120(), passFine3M(activeRecipe, reading.pass));
    put(ascii(' stop'));
  }
  drawPatchRead(ascii('Knob: which is right'));
}
