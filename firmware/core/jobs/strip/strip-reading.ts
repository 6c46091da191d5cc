/** What follows from what was seen on a strip: the base, the next strip, or both; and how far to stop the lens down. */
import { timeAtStopsMs } from '../../arithmetic/stops';
import { Job, STOP_PARTS, Verdict } from '../../generated/constants';
import { logStoppedDown } from '../../log/entries';
import { activeRecipe, hasRecipe, recipeHeadAt } from '../../recipe/recipe';
import { chosen, chosenStrip, reading, readStrip, situation } from '../../state/state';
import { isBetween, isFound, logPatchRead, patchRead, verdict } from '../patches';
import { firstFreeNegative } from '../recipe/negatives';
import { makePlainRecipe, markRecipeChanged } from '../recipe/recipe-in-use';
import {
  proposedFirstMs,
  proposedPatches,
  proposedStops120,
  proposeStrip,
  readMs,
  stopsDown,
} from './strip-proposal';

/** The dose of the patch that the knob is at, or between two. */
export function stripReadMs(): i32 {
  return readMs(readStrip.firstMs, readStrip.stepStops120, readStrip.stepMs, patchRead(), isBetween());
}

/** Takes what is shown, and says how many stops the lens is to be stopped down. */
export function takeStripReading(nowUs: i64): i32 {
  const bestMs = isFound() ? stripReadMs() : 0;
  logPatchRead(bestMs, nowUs);
  if (isFound()) takeBase(bestMs);
  const strip = readStrip;
  if (proposeStrip(verdict(), bestMs, strip.firstMs, strip.stepStops120, strip.stepMs, strip.patches))
    takeProposal();
  else situation.job = Job.Recipe;
  // A sheet that is black all over most often means a lens left open.
  if (verdict() == Verdict.TooDark) situation.lensConfirmed = false;
  return isFound() ? stopsDown(bestMs) : 0;
}

/** It becomes the base of the recipe in use, or of a new one of a single pass. */
function takeBase(baseMs: i32): void {
  if (reading.isNewNegative || !hasRecipe()) makePlainRecipe(firstFreeNegative(), readStrip.filter);
  chosen.isNewNegative = false;
  recipeHeadAt(activeRecipe).baseMs = baseMs;
  markRecipeChanged();
  chosen.baseIsFound = true;
}

function takeProposal(): void {
  situation.job = Job.Strip;
  chosenStrip.firstMs = proposedFirstMs;
  chosenStrip.stepStops120 = u16(proposedStops120);
  chosenStrip.stepMs = 0;
  chosenStrip.patches = u8(proposedPatches);
}

/** The base as it will be with the lens stopped down. */
export function stoppedDownMs(): i32 {
  return timeAtStopsMs(recipeHeadAt(activeRecipe).baseMs, reading.stopsDown * STOP_PARTS);
}

/** The printer has stopped the lens down: base, and a strip about it, are longer to match. */
export function takeStoppedDownLens(nowUs: i64): void {
  const baseMs = stoppedDownMs();
  recipeHeadAt(activeRecipe).baseMs = baseMs;
  markRecipeChanged();
  if (situation.job == Job.Strip)
    chosenStrip.firstMs = timeAtStopsMs(chosenStrip.firstMs, reading.stopsDown * STOP_PARTS);
  logStoppedDown(reading.stopsDown, baseMs, nowUs);
  reading.stopsDown = 0;
}
