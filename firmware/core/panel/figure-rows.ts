/** The figure that the knob is at: its value in row 1, whose it is in row 2, and what it is in row 3. */
import { chosenStrip } from '../evening/job';
import { passLabel } from '../evening/labels';
import { passIndex } from '../evening/pass';
import { Figure, figure, figureDodgeIndex, figurePass, figureValue } from '../evening/turning';
import { Cover, ExposureKind } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { activeRecipe, recipeBeginAt, recipeDodgeAt } from '../recipe/recipe';
import { putSeconds, putSignedStops, putStops } from './figures';
import { drawJob } from './panel';
import { beginRow, put, putByte, putNumber, putText } from './row';

export function drawFigure(): void {
  beginRow(1);
  if (figure >= Figure.FirstTime) drawStripFigure();
  else if (figure == Figure.NextPass) drawNextPass();
  else drawRecipeFigure();
}

function drawRecipeFigure(): void {
  if (figure == Figure.Base) {
    putSeconds(figureValue());
    rowOf(recipeBeginAt(activeRecipe).name);
    put('Knob: whole recipe');
    return;
  }
  putSignedStops(figureValue());
  put(' stop ');
  if (figure == Figure.Dodge) {
    rowOf(recipeDodgeAt(activeRecipe, figureDodgeIndex()).label);
    put('Knob: this dodge');
    return;
  }
  rowOf(passLabel(figurePass));
  put(eveningPlan.pass(figurePass).kind == ExposureKind.Burn ? 'Knob: this burn' : 'Knob: this pass');
}

function drawNextPass(): void {
  putSeconds(eveningPlan.pass(passIndex).doseMs);
  rowOf(passLabel(passIndex));
  put('Knob: pass ');
  putNumber(passIndex + 1);
  putByte(0x2f);
  putNumber(eveningPlan.passCount);
}

/** Row 2 is the text; row 3 is next. */
function rowOf(text: usize): void {
  beginRow(2);
  putText(text);
  beginRow(3);
}

function drawStripFigure(): void {
  drawStripValue();
  beginRow(2);
  drawJob();
  beginRow(3);
  put(figureWords());
}

function drawStripValue(): void {
  switch (figure) {
    case Figure.FirstTime:
      putSeconds(chosenStrip.firstMs);
      return;
    case Figure.Step:
      if (chosenStrip.stepStops120 == 0) putSeconds(chosenStrip.stepMs);
      else putStops(chosenStrip.stepStops120);
      if (chosenStrip.stepStops120 != 0) put(' stop');
      return;
    case Figure.Patches:
      putNumber(chosenStrip.patches);
      return;
    default:
      put(chosenStrip.cover == Cover.Separate ? 'Each patch alone' : 'Cover step by step');
  }
}

function figureWords(): string {
  switch (figure) {
    case Figure.FirstTime:
      return 'Knob: first time';
    case Figure.Step:
      return 'Knob: step';
    case Figure.Patches:
      return 'Knob: patches';
    default:
      return 'Knob: the card';
  }
}
