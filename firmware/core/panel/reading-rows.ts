/** The strip being read: the time in row 1, the patch in row 2; and what to do with a time too short to dodge in. */
import {
  chosenBand,
  chosenLagMs,
  chosenMinutes,
  chosenMs,
  chosenPatch,
  chosenStops120,
  chosenVerdict,
  closedBaseMs,
  closingStops,
  givenStrip,
  isFound,
  unreadJob,
} from '../evening/reading';
import { Job, Verdict } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { putCounted, putOf, putSeconds, putSignedStops } from './figures';
import { beginRow, put, putNumber } from './row';

export function drawReading(): void {
  if (closingStops != 0) drawClosing();
  else drawChoice();
}

function drawChoice(): void {
  if (unreadJob == Job.SafelightTest) {
    drawSafelight();
    return;
  }
  const verdict = chosenVerdict();
  beginRow(1);
  if (isFound()) drawFound();
  beginRow(2);
  if (verdict == Verdict.TooDark) put(ascii('All too dark'));
  else if (verdict == Verdict.TooLight) put(ascii('All too light'));
  else drawPatch(verdict);
  beginRow(3);
  put(unreadJob == Job.LampTest ? ascii('Knob: which matches') : ascii('Knob: which is right'));
}

/** What follows if the patch shown is right. */
function drawFound(): void {
  switch (unreadJob) {
    case Job.Bracket:
      putSignedStops(chosenStops120());
      put(ascii(' stop'));
      return;
    case Job.LampTest:
      putNumber(chosenLagMs());
      put(ascii(' ms lag'));
      return;
    default:
      putSeconds(chosenMs());
  }
}

/** Of both halves, the worse. */
function drawSafelight(): void {
  beginRow(1);
  put(ascii('Safe for '));
  putNumber(chosenMinutes());
  put(ascii(' min'));
  beginRow(2);
  if (chosenBand() == 0) {
    put(ascii('No band differs'));
  } else {
    put(ascii('Band '));
    putNumber(chosenBand() + 1);
    put(ascii(' differs'));
  }
  beginRow(3);
  put(ascii('Knob: first changed'));
}

/** Patches count from the lightest. */
function drawPatch(verdict: Verdict): void {
  const patch = chosenPatch() + 1;
  if (verdict == Verdict.Patch) {
    put(ascii('Patch '));
    putOf(patch, givenStrip.patches);
    return;
  }
  put(ascii('Between '));
  putNumber(patch);
  put(ascii(' and '));
  putNumber(patch + 1);
}

function drawClosing(): void {
  beginRow(1);
  putSeconds(recipeHeadAt(activeRecipe).baseMs);
  put(ascii(': short'));
  beginRow(2);
  put(ascii('Close lens '));
  putCounted(closingStops, ascii(' stop'), ascii(' stops'));
  beginRow(3);
  put(ascii('for '));
  putSeconds(closedBaseMs());
}
