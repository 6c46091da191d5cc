/** The figure that the knob is at: its value in row 1, whose it is in row 2, and what it is in row 3. */
import { chosenStrip } from '../evening/job';
import { passLabel } from '../evening/labels';
import { passIndex } from '../evening/pass';
import { Figure, figure, figureDodgeIndex, figurePass, figureValue } from '../evening/turning';
import { Cover, ExposureKind } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { ascii } from '../protocol/texts';
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
    put(ascii('Knob: whole recipe'));
    return;
  }
  putSignedStops(figureValue());
  put(ascii(' stop '));
  if (figure == Figure.Dodge) {
    rowOf(recipeDodgeAt(activeRecipe, figureDodgeIndex()).label);
    put(ascii('Knob: this dodge'));
    return;
  }
  rowOf(passLabel(figurePass));
  put(
    eveningPlan.pass(figurePass).kind == ExposureKind.Burn
      ? ascii('Knob: this burn')
      : ascii('Knob: this pass'),
  );
}

function drawNextPass(): void {
  putSeconds(eveningPlan.pass(passIndex).doseMs);
  rowOf(passLabel(passIndex));
  put(ascii('Knob: pass '));
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
      if (chosenStrip.stepStops120 != 0) put(ascii(' stop'));
      return;
    case Figure.Patches:
      putNumber(chosenStrip.patches);
      return;
    default:
      put(chosenStrip.cover == Cover.Separate ? ascii('Each patch alone') : ascii('Cover step by step'));
  }
}

function figureWords(): usize {
  switch (figure) {
    case Figure.FirstTime:
      return ascii('Knob: first time');
    case Figure.Step:
      return ascii('Knob: step');
    case Figure.Patches:
      return ascii('Knob: patches');
    default:
      return ascii('Knob: the card');
  }
}
