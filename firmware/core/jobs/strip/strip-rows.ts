/** A strip on the panel: at rest, at the knob's figures, patch by patch, and while it is read. */
import { eveningPlan } from '../../plan/plan';
import { ascii, isEmptyText } from '../../protocol/texts';
import { activeRecipe, hasRecipe, nameInUse, recipeHeadAt } from '../../recipe/recipe';
import { putCounted, putOf, putSeconds } from '../../rows/figures';
import { drawFilter } from '../../rows/filter';
import { beginRow, put, putText } from '../../rows/row';
import { chosen, chosenStrip, given, reading } from '../../state/state';
import { putAgainOrRest } from '../again-or-rest';
import { drawPatchRead } from '../patch-rows';
import { isFound } from '../patches';
import { SpreadFigure } from '../spread-figures';
import { drawCard, drawSpread, drawSpreadFigure, spreadFigureWords } from '../spread-rows';
import { patchMs } from './strip-plan';
import { stoppedDownMs, stripReadMs } from './strip-reading';

export function drawFirstTime(): void {
  putSeconds(chosenStrip.firstMs);
  if (isEmptyText(chosenStrip.filter)) put(ascii(' first'));
  else drawFilter(chosenStrip.filter);
}

export function drawStrip(): void {
  drawSpread(chosenStrip, ascii(' patches, '));
}

/** What the base will be for: "for boathouse". */
export function drawStripNote(): void {
  if (!hasRecipe()) return;
  put(ascii('for '));
  if (chosen.isNewNegative) put(ascii('another negative'));
  else putText(nameInUse());
}

export function drawStripFigure(): void {
  switch (chosen.figure) {
    case SpreadFigure.About:
    case SpreadFigure.AboutSeconds:
      putSeconds(chosenStrip.firstMs);
      drawFilter(chosenStrip.filter);
      break;
    case SpreadFigure.Filter:
      drawStripFilter();
      break;
    default:
      drawSpreadFigure(chosenStrip);
  }
  beginRow(2);
  drawStrip();
  beginRow(3);
  put(stripFigureWords());
}

function drawStripFilter(): void {
  if (isEmptyText(chosenStrip.filter)) {
    put(ascii('no filter'));
    return;
  }
  put(ascii('filter '));
  putText(chosenStrip.filter);
}

function stripFigureWords(): usize {
  switch (chosen.figure) {
    case SpreadFigure.AboutSeconds:
      return ascii('Knob: first, seconds');
    case SpreadFigure.Filter:
      return ascii('Knob: filter');
    default:
      return spreadFigureWords(ascii('Knob: first time'));
  }
}

export function drawStripPass(): void {
  drawCard(chosenStrip, ascii('Uncover whole strip'));
  put(ascii('Patch '));
  putOf(given.pass + 1, eveningPlan.passCount);
  if (putAgainOrRest()) return;
  put(ascii(' '));
  putSeconds(patchMs(chosenStrip.firstMs, chosenStrip.stepStops120, chosenStrip.stepMs, given.pass));
}

export function drawStripReading(): void {
  if (isFound()) putSeconds(stripReadMs());
  drawPatchRead(ascii('Knob: which is right'));
}

/** The base that was found is too short to dodge in. */
export function drawStoppingDown(): void {
  putSeconds(recipeHeadAt(activeRecipe).baseMs);
  put(ascii(': short'));
  beginRow(2);
  put(ascii('Stop down by '));
  putCounted(reading.stopsDown, ascii(' stop'), ascii(' stops'));
  beginRow(3);
  put(ascii('for '));
  putSeconds(stoppedDownMs());
}
