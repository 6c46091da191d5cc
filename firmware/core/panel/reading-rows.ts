/** The strip being read: the time in row 1, the patch in row 2; and what to do with a time too short to dodge in. */
import {
  chosenMs,
  chosenPatch,
  chosenVerdict,
  closedBaseMs,
  closingStops,
  givenStrip,
} from '../evening/reading';
import { Verdict } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { putSeconds } from './figures';
import { beginRow, put, putByte, putNumber } from './row';

export function drawReading(): void {
  if (closingStops != 0) drawClosing();
  else drawChoice();
}

function drawChoice(): void {
  const verdict = chosenVerdict();
  const found = verdict == Verdict.Patch || verdict == Verdict.Between;
  beginRow(1);
  if (found) putSeconds(chosenMs());
  beginRow(2);
  if (verdict == Verdict.TooDark) put(ascii('All too dark'));
  else if (verdict == Verdict.TooLight) put(ascii('All too light'));
  else drawPatch(verdict);
  beginRow(3);
  put(ascii('Knob: which is right'));
}

/** Patches count from the lightest. */
function drawPatch(verdict: Verdict): void {
  const patch = chosenPatch() + 1;
  put(verdict == Verdict.Between ? ascii('Between ') : ascii('Patch '));
  putNumber(patch);
  if (verdict == Verdict.Between) {
    put(ascii(' and '));
    putNumber(patch + 1);
    return;
  }
  putByte(0x2f);
  putNumber(givenStrip.patches);
}

function drawClosing(): void {
  beginRow(1);
  putSeconds(recipeHeadAt(activeRecipe).baseMs);
  put(ascii(': short'));
  beginRow(2);
  put(ascii('Close lens '));
  putNumber(closingStops);
  put(closingStops == 1 ? ascii(' stop') : ascii(' stops'));
  beginRow(3);
  put(ascii('for '));
  putSeconds(closedBaseMs());
}
