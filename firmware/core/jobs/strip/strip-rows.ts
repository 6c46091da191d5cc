/** A strip on the panel: at rest, at the knob's figures, patch by patch, and while it is read. */
import { eveningPlan } from '../../plan/plan';
import { ascii } from '../../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../../recipe/recipe';
import { putCounted, putOf, putSeconds } from '../../rows/figures';
import { beginRow, put } from '../../rows/row';
import { chosen, chosenStrip, given, reading } from '../../state/state';
import { drawPatchRead } from '../patch-rows';
import { isFound } from '../patches';
import { SpreadFigure } from '../spread-figures';
import { drawCard, drawSpread, drawSpreadFigure, spreadFigureWords } from '../spread-rows';
import { patchMs } from './strip-plan';
import { stoppedDownMs, stripReadMs } from './strip-reading';

export function drawFirstTime(): void {
  putSeconds(chosenStrip.firstMs);
  put(ascii(' first'));
}

export function drawStrip(): void {
  drawSpread(chosenStrip, ascii(' patches, '));
}

export function drawStripFigure(): void {
  if (chosen.figure == SpreadFigure.About) putSeconds(chosenStrip.firstMs);
  else drawSpreadFigure(chosenStrip);
  beginRow(2);
  drawStrip();
  beginRow(3);
  put(spreadFigureWords(ascii('Knob: first time')));
}

export function drawStripPass(): void {
  drawCard(chosenStrip, ascii('Uncover whole strip'));
  put(ascii('Patch '));
  putOf(given.pass + 1, eveningPlan.passCount);
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
