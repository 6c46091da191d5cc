/** The sheet of paper under the enlarger: its number, and its entries in the log. */
import { Sheet, StripSet } from '../generated/codec';
import { Cover, Job, Outcome } from '../generated/constants';
import { logExposureBegun, logSheet, logSheetEnded, newExposure, newSheet } from '../log/entries';
import { LAMP_TEST_MS, LAMP_TEST_PATCHES, LAMP_TEST_STEP_MS } from '../plan/lamp-test-plan';
import { eveningPlan } from '../plan/plan';
import { SAFELIGHT_BANDS } from '../plan/safelight-plan';
import { copyText } from '../protocol/texts';
import { activeRecipe, recipeHeadAt, recipePassAt } from '../recipe/recipe';
import { bracketSpread } from './bracket';
import { chosenStrip, jobName } from './job';
import { isOfRecipe } from './labels';
import { freshPaper, paperIsGone } from './paper-out';
import { passIndex } from './pass';
import { situation } from './situation';
import { greyMs } from './tests-on-paper';

/** Counts from 1 after power-up; 0 before the first sheet. */
export let sheetNumber: i32 = 0;
let logged: bool = false;

export function noSheets(): void {
  sheetNumber = 0;
  logged = false;
  isOpen = false;
  prints = 0;
  strips = 0;
  wasted = 0;
}

// The tally since power-up.
let prints: i32 = 0;
let strips: i32 = 0;
let wasted: i32 = 0;
/** Begun, and neither finished nor given up; and whether it has had any light. */
let isOpen: bool = false;
let isLit: bool = false;

/** The sheet has had light. */
export function sheetIsLit(): void {
  isLit = true;
}

/** Counts the sheet, once; one that never saw light can be used again and does not count. */
export function endSheet(outcome: Outcome, nowUs: i64): void {
  if (!isOpen || !isLit) return;
  isOpen = false;
  if (outcome != Outcome.Complete) {
    wasted++;
    paperIsGone(sheetNumber);
  } else if (situation.job == Job.Recipe) prints++;
  else strips++;
  logSheetEnded(sheetNumber, outcome, prints, strips, wasted, nowUs);
}

/** The printer puts another sheet in; it is counted when its first exposure is about to begin. */
export function nextSheet(): void {
  logged = false;
  freshPaper();
}

/** True from when its first exposure was about to begin. */
export function sheetIsBegun(): bool {
  return logged;
}

/** Puts into the log that the pass is about to be given, and before the first pass of a sheet, the sheet. */
export function logPass(nowUs: i64): void {
  if (!logged) {
    logged = true;
    isOpen = true;
    isLit = false;
    sheetNumber = (sheetNumber + 1) & 0xffff;
    logNewSheet(nowUs);
  }
  const exposure = newExposure(nowUs);
  const pass = eveningPlan.pass(passIndex);
  exposure.kind = pass.kind;
  exposure.plannedMs = pass.doseMs;
  exposure.sheet = u16(sheetNumber);
  copyText(exposure.recipe, jobName());
  exposure.patch = pass.patch;
  if (isOfRecipe(passIndex)) {
    const from = recipePassAt(activeRecipe, pass.recipePass);
    exposure.pass = u8(pass.recipePass + 1);
    copyText(exposure.label, from.label);
    copyText(exposure.filter, from.filter);
  }
  logExposureBegun();
}

function logNewSheet(nowUs: i64): void {
  const sheet = newSheet(nowUs);
  sheet.sheet = u16(sheetNumber);
  sheet.job = u8(situation.job);
  copyText(sheet.recipe, jobName());
  describeSheet(sheet);
  logSheet();
}

function describeSheet(sheet: Sheet): void {
  switch (situation.job) {
    case Job.Strip:
      sheet.baseMs = chosenStrip.firstMs;
      describePatches(sheet, chosenStrip);
      return;
    case Job.LampTest:
      sheet.baseMs = LAMP_TEST_MS;
      sheet.stepMs = LAMP_TEST_STEP_MS;
      sheet.patches = u8(LAMP_TEST_PATCHES);
      sheet.cover = u8(Cover.Separate);
      return;
    case Job.SafelightTest:
      sheet.baseMs = greyMs;
      sheet.patches = u8(SAFELIGHT_BANDS);
      return;
    default:
      sheet.version = recipeHeadAt(activeRecipe).version;
      sheet.baseMs = recipeHeadAt(activeRecipe).baseMs;
      if (situation.job == Job.Bracket) describePatches(sheet, bracketSpread);
  }
}

function describePatches(sheet: Sheet, spread: StripSet): void {
  sheet.stepStops120 = spread.stepStops120;
  sheet.stepMs = spread.stepMs;
  sheet.patches = spread.patches;
  sheet.cover = spread.cover;
}
