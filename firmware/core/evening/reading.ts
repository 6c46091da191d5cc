/**
 * Reading patches on paper: the knob turns from 'all too dark' along the patches, lightest first, to 'all too light';
 * of the safelight test, to the band that first differs. A push, or a tap of the pedal, takes what is shown (see
 * take-choice.ts). A base too short to dodge in leads on to closing the lens.
 */

import { timeAtStopsMs } from '../arithmetic/stops';
import { STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { Job, Verdict } from '../generated/constants';
import { logStoppedDown } from '../log/entries';
import { firstVersionStops120 } from '../plan/bracket-plan';
import { LAMP_TEST_PATCHES, LAMP_TEST_STEP_MS } from '../plan/lamp-test-plan';
import { bandMinutes, SAFELIGHT_BANDS } from '../plan/safelight-plan';
import { seenMs } from '../plan/strip-proposal';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { bracketPass, bracketSpread } from './bracket';
import { chosenStrip } from './job';
import { sheetNumber } from './sheet';
import { situation } from './situation';
import { testLagMs } from './tests-on-paper';

/** What the sheet given last was for, if its patches have not been read yet; otherwise None. */
export let unreadJob: Job = Job.None;
export let givenSheet: i32 = 0;
/** Its patches, and of a bracket the offset of its first version. */
export const givenStrip = changetype<StripSet>(memory.data(STRIP_SET_BYTES, 8));
let givenFirstStops120: i32 = 0;
export let givenPass: i32 = 0;

/** Where the knob stands: 0 all too dark, then each patch and between it and the next; the last: all too light. */
export let choice: i32 = 0;
/** The strip was read, and the lens is to be closed by so many stops; 0 while the strip is being read. */
export let closingStops: i32 = 0;

const STOP: i32 = 120;

export function nothingToRead(): void {
  unreadJob = Job.None;
  closingStops = 0;
}

/** The recipe that a bracket was of is no longer in use. */
export function forgetBracket(): void {
  if (unreadJob == Job.Bracket) unreadJob = Job.None;
}

/** A sheet has had all its light: what has patches is to be read. */
export function sheetGiven(): void {
  if (situation.job == Job.Recipe) return;
  unreadJob = situation.job;
  givenSheet = sheetNumber;
  const spread = situation.job == Job.Bracket ? bracketSpread : chosenStrip;
  memory.copy(changetype<usize>(givenStrip), changetype<usize>(spread), STRIP_SET_BYTES);
  if (situation.job == Job.Bracket) {
    givenPass = bracketPass;
    givenFirstStops120 = firstVersionStops120(activeRecipe, bracketPass, bracketSpread);
  }
  if (situation.job == Job.LampTest) givenStrip.patches = u8(LAMP_TEST_PATCHES);
}

export function beginReading(): void {
  closingStops = 0;
  choice = readsSafelight() ? 0 : i32(givenStrip.patches);
}

export function turnChoice(clicks: i32): void {
  if (closingStops == 0) choice = max(0, min(lastChoice(), choice + clicks));
}

function lastChoice(): i32 {
  return readsSafelight() ? SAFELIGHT_BANDS - 1 : 2 * i32(givenStrip.patches);
}

function readsSafelight(): bool {
  return unreadJob == Job.SafelightTest;
}

export function chosenVerdict(): Verdict {
  if (choice == 0) return Verdict.TooDark;
  if (choice == lastChoice()) return Verdict.TooLight;
  return (choice & 1) == 1 ? Verdict.Patch : Verdict.Between;
}

/** A patch is right, or between two. */
export function isFound(): bool {
  return choice != 0 && choice != lastChoice();
}

/** The patch, from 0, or the lighter one of the two; at the ends the patch there. */
export function chosenPatch(): i32 {
  return max(0, min(i32(givenStrip.patches) - 1, (choice - 1) >> 1));
}

/** Of a strip: the dose of a patch, or between two. */
export function chosenMs(): i32 {
  const between = chosenVerdict() == Verdict.Between;
  return seenMs(givenStrip.firstMs, givenStrip.stepStops120, givenStrip.stepMs, chosenPatch(), between);
}

/** Of a bracket: the offset of a version, or between two. */
export function chosenStops120(): i32 {
  const step = i32(givenStrip.stepStops120);
  return givenFirstStops120 + step * chosenPatch() + (chosenVerdict() == Verdict.Between ? step / 2 : 0);
}

/** Of the lamp test: the lag of a patch, or between two. */
export function chosenLagMs(): i32 {
  return testLagMs(chosenPatch()) + (chosenVerdict() == Verdict.Between ? LAMP_TEST_STEP_MS / 2 : 0);
}

/** Of the safelight test: the band that first differs, counted as the card covers them; 0 for none. */
export function chosenBand(): i32 {
  return choice;
}

/** For how long paper may lie out: as long as the last band that does not differ, all of it when none does. */
export function chosenMinutes(): i32 {
  return bandMinutes(choice == 0 ? SAFELIGHT_BANDS - 1 : choice - 1);
}

/** The patches have been read. */
export function isRead(stopsToClose: i32): void {
  unreadJob = Job.None;
  closingStops = stopsToClose;
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
  logStoppedDown(closingStops, baseMs, nowUs);
  closingStops = 0;
}
