/**
 * Reading a strip: the knob turns from 'all too dark' along the patches, lightest first, to 'all too light'; a
 * push, or a tap of the pedal, takes what is shown. A base too short to dodge in leads on to closing the lens.
 */

import { timeAtStopsMs } from '../arithmetic/stops';
import { STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { Job, Verdict } from '../generated/constants';
import { logLensClosed, logSeen } from '../log/entries';
import {
  proposedFirstMs,
  proposedPatches,
  proposedStops120,
  proposeStrip,
  seenMs,
  stopsToClose,
} from '../plan/strip-proposal';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { chosenStrip, hasRecipe, plainRecipe, recipeIsChanged } from './job';
import { sheetNumber } from './sheet';
import { situation } from './situation';

/** The strip that was given last, and has not been read yet. */
export const givenStrip = changetype<StripSet>(memory.data(STRIP_SET_BYTES, 8));
export let stripIsUnread: bool = false;
let givenSheet: i32 = 0;

/** Where the knob stands: 0 all too dark, then each patch and between it and the next; the last: all too light. */
export let choice: i32 = 0;
/** The strip was read, and the lens is to be closed by so many stops; 0 while the strip is being read. */
export let closingStops: i32 = 0;

const STOP: i32 = 120;

export function noStripGiven(): void {
  stripIsUnread = false;
  closingStops = 0;
}

/** A strip has had all its light. */
export function stripGiven(): void {
  memory.copy(changetype<usize>(givenStrip), changetype<usize>(chosenStrip), STRIP_SET_BYTES);
  givenSheet = sheetNumber;
  stripIsUnread = true;
}

export function beginReading(): void {
  closingStops = 0;
  choice = i32(givenStrip.patches);
}

export function turnChoice(clicks: i32): void {
  if (closingStops == 0) choice = max(0, min(lastChoice(), choice + clicks));
}

function lastChoice(): i32 {
  return 2 * i32(givenStrip.patches);
}

export function chosenVerdict(): Verdict {
  if (choice == 0) return Verdict.TooDark;
  if (choice == lastChoice()) return Verdict.TooLight;
  return (choice & 1) == 1 ? Verdict.Patch : Verdict.Between;
}

/** The patch, from 0, or the lighter one of the two. */
export function chosenPatch(): i32 {
  return max(0, (choice - 1) >> 1);
}

/** Of a patch, or between two. */
export function chosenMs(): i32 {
  const between = chosenVerdict() == Verdict.Between;
  return seenMs(givenStrip.firstMs, givenStrip.stepStops120, givenStrip.stepMs, chosenPatch(), between);
}

/** Takes what is shown: the base, the next strip, or both. True when the lens should be closed as well. */
export function takeChoice(nowUs: i64): bool {
  const verdict = chosenVerdict();
  const found = verdict == Verdict.Patch || verdict == Verdict.Between;
  const bestMs = found ? chosenMs() : 0;
  stripIsUnread = false;
  logSeen(givenSheet, verdict, found ? chosenPatch() + 1 : 0, bestMs, nowUs);
  if (found) takeBase(bestMs);
  const strip = givenStrip;
  if (proposeStrip(verdict, bestMs, strip.firstMs, strip.stepStops120, strip.stepMs, strip.patches))
    takeProposal();
  else situation.job = Job.Recipe;
  // A sheet that is black all over most often means a lens left open.
  if (verdict == Verdict.TooDark) situation.lensConfirmed = false;
  closingStops = found ? stopsToClose(bestMs) : 0;
  return closingStops != 0;
}

/** It becomes the base of the recipe in use, or of a plain one of a single pass. */
function takeBase(baseMs: i32): void {
  if (!hasRecipe()) plainRecipe();
  recipeHeadAt(activeRecipe).baseMs = baseMs;
  recipeIsChanged(true);
}

function takeProposal(): void {
  situation.job = Job.Strip;
  chosenStrip.firstMs = proposedFirstMs;
  chosenStrip.stepStops120 = u16(proposedStops120);
  chosenStrip.stepMs = 0;
  chosenStrip.patches = u8(proposedPatches);
}

/** The base as it is with the lens closed further. */
export function closedBaseMs(): i32 {
  return timeAtStopsMs(recipeHeadAt(activeRecipe).baseMs, closingStops * STOP);
}

/** The printer has closed the lens: base, and a strip about it, are longer to match. */
export function takeClosedLens(nowUs: i64): void {
  const baseMs = closedBaseMs();
  recipeHeadAt(activeRecipe).baseMs = baseMs;
  if (situation.job == Job.Strip)
    chosenStrip.firstMs = timeAtStopsMs(chosenStrip.firstMs, closingStops * STOP);
  logLensClosed(closingStops, baseMs, nowUs);
  closingStops = 0;
}
