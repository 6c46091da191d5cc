/** The figure that the knob is at: its value in row 1, whose it is in row 2, and what it is in row 3. */

import { Figure, figure, figureDodgeIndex, figurePass, spread } from '../evening/figure';
import { isOfRecipe, passLabel } from '../evening/labels';
import { passIndex } from '../evening/pass';
import { figureValue } from '../evening/turning';
import { Cover, ExposureKind } from '../generated/constants';
import { eveningPlan } from '../plan/plan';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeBeginAt, recipeDodgeAt, recipePassAt } from '../recipe/recipe';
import { putOf, putSeconds, putSignedStops, putStops } from './figures';
import { drawJob } from './rest-rows';
import { beginRow, put, putNumber, putText } from './row';

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
  beginRow(2);
  if (isOfRecipe(passIndex)) putText(passLabel(passIndex));
  else drawWhichPatch(eveningPlan.pass(passIndex).patch);
  beginRow(3);
  put(ascii('Knob: pass '));
  putOf(passIndex + 1, eveningPlan.passCount);
}

function drawWhichPatch(patch: i32): void {
  if (patch == 0) {
    put(ascii('To compare with'));
    return;
  }
  put(ascii('Patch '));
  putNumber(patch);
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
    case Figure.Grey:
      putSeconds(figureValue());
      return;
    case Figure.Step:
      if (spread().stepStops120 == 0) putSeconds(spread().stepMs);
      else putStops(spread().stepStops120);
      if (spread().stepStops120 != 0) put(ascii(' stop'));
      return;
    case Figure.Patches:
      putNumber(spread().patches);
      return;
    case Figure.Bracketed:
      putText(recipePassAt(activeRecipe, figureValue()).label);
      return;
    case Figure.FirstLag:
      putNumber(figureValue());
      put(ascii(' ms lag'));
      return;
    default:
      put(spread().cover == Cover.Separate ? ascii('Each patch alone') : ascii('Cover step by step'));
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
    case Figure.Bracketed:
      return ascii('Knob: which pass');
    case Figure.Grey:
      return ascii('Knob: a light grey');
    case Figure.FirstLag:
      return ascii('Knob: first patch');
    default:
      return ascii('Knob: the card');
  }
}
