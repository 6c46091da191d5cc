/** The entries of the log, filled in from what the evening is doing. Their number and boot are the storage's. */
import { bathAt, bathRow } from '../baths/baths';
import {
  BATH_USED_BYTES,
  BathUsed,
  CLOCK_BYTES,
  Clock,
  DEVELOPMENT_BYTES,
  Development,
  EXPOSURE_BYTES,
  EXPOSURE_RESULT_BYTES,
  Exposure,
  ExposureResult,
  LENS_BYTES,
  Lens,
  PEDAL_STUCK_BYTES,
  PedalStuck,
  RECIPE_CHANGE_BYTES,
  RECIPE_VERSION_BYTES,
  RecipeChange,
  RecipeVersion,
  SHEET_BYTES,
  SHEET_ENDED_BYTES,
  SHEET_RESUMED_BYTES,
  SHEET_UNUSED_BYTES,
  Sheet,
  SheetEnded,
  SheetResumed,
  SheetUnused,
  STARTED_BYTES,
  STOPPED_DOWN_BYTES,
  STRIP_READING_BYTES,
  Started,
  StoppedDown,
  StripReading,
  TEST_RESULT_BYTES,
  TestResult,
} from '../generated/codec';
import { EntryKind, ExposureKind, Finding, Outcome, Turnable, Verdict } from '../generated/constants';
import { copyText } from '../protocol/texts';
import { Form, post } from './outbox';

const entry: usize = memory.data(EXPOSURE_BYTES, 8);
const result = changetype<ExposureResult>(memory.data(EXPOSURE_RESULT_BYTES, 8));

/** An empty entry of that moment, which lies at the same place in all of them but a clock mark. */
function blank(nowUs: i64): usize {
  memory.fill(entry, 0, EXPOSURE_BYTES);
  changetype<Lens>(entry).uptimeMs = u32(nowUs / 1000);
  return entry;
}

function postWhole(kind: EntryKind, length: i32): bool {
  return post(Form.Whole, kind, entry, length);
}

export function logStarted(cause: i32, detail: i32, nowUs: i64): void {
  const started = changetype<Started>(blank(nowUs));
  started.cause = u8(cause);
  started.detail = u32(detail);
  postWhole(EntryKind.Started, STARTED_BYTES);
}

/** False when the outbox is full: whoever asked may ask again. */
export function logClock(epochMs: i64, nowUs: i64): bool {
  const clock = changetype<Clock>(blank(nowUs));
  clock.epochMs = epochMs;
  clock.uptimeMs = u32(nowUs / 1000);
  return postWhole(EntryKind.Clock, CLOCK_BYTES);
}

export function logLens(nowUs: i64): void {
  blank(nowUs);
  postWhole(EntryKind.Lens, LENS_BYTES);
}

export function logPedalStuck(heldMs: i32, nowUs: i64): void {
  const stuck = changetype<PedalStuck>(blank(nowUs));
  stuck.heldMs = u32(heldMs);
  postWhole(EntryKind.PedalStuck, PEDAL_STUCK_BYTES);
}

/** The light for composing and focusing that has just gone out; the entry bears the time when it came on. */
export function logFocus(onUs: u32, nowUs: i64): void {
  const focus = changetype<Exposure>(blank(nowUs - onUs));
  focus.kind = u8(ExposureKind.Focus);
  focus.onMs = roundedMs(onUs);
  focus.outcome = u8(Outcome.Complete);
  postWhole(EntryKind.Exposure, EXPOSURE_BYTES);
}

/** An empty sheet entry to fill in and hand to `logSheet`. */
export function newSheet(nowUs: i64): Sheet {
  const sheet = changetype<Sheet>(blank(nowUs));
  return sheet;
}

export function logSheet(): void {
  postWhole(EntryKind.Sheet, SHEET_BYTES);
}

/** An empty exposure to fill in with what is planned and hand to `logExposureBegun`. */
export function newExposure(nowUs: i64): Exposure {
  const exposure = changetype<Exposure>(blank(nowUs));
  return exposure;
}

export function logExposureBegun(): void {
  post(Form.Begun, EntryKind.Exposure, entry, EXPOSURE_BYTES);
}

export function logExposureEnded(onUs: u64, doseUs: u64, outcome: Outcome, pauses: i32): void {
  result.onMs = roundedMs(onUs);
  result.doseMs = roundedMs(doseUs);
  result.outcome = u8(outcome);
  result.pauses = u8(min(pauses, 255));
  post(Form.Ended, EntryKind.Exposure, changetype<usize>(result), EXPOSURE_RESULT_BYTES);
}

function roundedMs(us: u64): u32 {
  return u32((us + 500) / 1000);
}

/** The knob changed the recipe in use: `pass` and `dodge` from 1, 0 where it is about neither. */
export function logRecipeChange(
  recipe: usize,
  what: Turnable,
  pass: i32,
  dodge: i32,
  baseMs: i32,
  stops120: i32,
  nowUs: i64,
): void {
  const turned = changetype<RecipeChange>(blank(nowUs));
  copyText(turned.recipe, recipe);
  turned.what = u8(what);
  turned.pass = u8(pass);
  turned.dodge = u8(dodge);
  turned.baseMs = u32(baseMs);
  turned.stops120 = i16(stops120);
  postWhole(EntryKind.RecipeChange, RECIPE_CHANGE_BYTES);
}

export function logRecipeVersion(recipe: usize, version: i32, nowUs: i64): void {
  logRecipe(EntryKind.RecipeVersion, recipe, version, nowUs);
}

export function logRecipeTaken(recipe: usize, version: i32, nowUs: i64): void {
  logRecipe(EntryKind.RecipeTaken, recipe, version, nowUs);
}

/** Both say the same, and are kept as the same. */
function logRecipe(kind: EntryKind, recipe: usize, version: i32, nowUs: i64): void {
  const kept = changetype<RecipeVersion>(blank(nowUs));
  copyText(kept.recipe, recipe);
  kept.version = u16(version);
  postWhole(kind, RECIPE_VERSION_BYTES);
}

/** What was seen on the strip of sheet `sheet`: `patch` from 1, and `doseMs`, or 0 and 0. */
export function logStripReading(sheet: i32, verdict: Verdict, patch: i32, doseMs: i32, nowUs: i64): void {
  const seen = changetype<StripReading>(blank(nowUs));
  seen.sheet = u16(sheet);
  seen.verdict = u8(verdict);
  seen.patch = u8(patch);
  seen.doseMs = doseMs;
  postWhole(EntryKind.StripReading, STRIP_READING_BYTES);
}

export function logStoppedDown(stops: i32, baseMs: i32, nowUs: i64): void {
  const closed = changetype<StoppedDown>(blank(nowUs));
  closed.stops = u8(stops);
  closed.baseMs = baseMs;
  postWhole(EntryKind.StoppedDown, STOPPED_DOWN_BYTES);
}

/** A sheet is finished or given up, and the tally since power-up. */
export function logSheetEnded(
  sheet: i32,
  outcome: Outcome,
  prints: i32,
  strips: i32,
  wasted: i32,
  nowUs: i64,
): void {
  const ended = changetype<SheetEnded>(blank(nowUs));
  ended.sheet = u16(sheet);
  ended.outcome = u8(outcome);
  ended.prints = u16(prints);
  ended.strips = u16(strips);
  ended.wasted = u16(wasted);
  postWhole(EntryKind.SheetEnded, SHEET_ENDED_BYTES);
}

/** A sheet that was given up is gone on with, and the tally without it. */
export function logSheetResumed(sheet: i32, prints: i32, strips: i32, wasted: i32, nowUs: i64): void {
  const resumed = changetype<SheetResumed>(blank(nowUs));
  resumed.sheet = u16(sheet);
  resumed.prints = u16(prints);
  resumed.strips = u16(strips);
  resumed.wasted = u16(wasted);
  postWhole(EntryKind.SheetResumed, SHEET_RESUMED_BYTES);
}

/** A sheet that was begun never saw light. */
export function logSheetUnused(sheet: i32, nowUs: i64): void {
  const unused = changetype<SheetUnused>(blank(nowUs));
  unused.sheet = u16(sheet);
  postWhole(EntryKind.SheetUnused, SHEET_UNUSED_BYTES);
}

/** `sheets` sheets have gone through bath `index` (from 0) and are counted in its tally. */
export function logBathUsed(
  index: i32,
  sheets: i32,
  plannedMs: u32,
  givenMs: u32,
  outMs: u32,
  nowUs: i64,
): void {
  const used = newBathUsed(index, nowUs);
  used.sheets = u8(sheets);
  used.plannedMs = plannedMs;
  used.givenMs = givenMs;
  used.outMs = outMs;
  postWhole(EntryKind.BathUsed, BATH_USED_BYTES);
}

/** Where bath `index` has the time `plannedMs` from: the temperature, the first tone; 0 each where it is not from there. */
export function logDevelopment(
  index: i32,
  trayC10: i32,
  firstToneMs: u32,
  factor: i32,
  plannedMs: u32,
  nowUs: i64,
): void {
  const made = changetype<Development>(blank(nowUs));
  made.bath = u8(index + 1);
  made.trayC10 = u16(trayC10);
  made.firstToneMs = firstToneMs;
  made.factor = u8(factor);
  made.plannedMs = plannedMs;
  postWhole(EntryKind.Development, DEVELOPMENT_BYTES);
}

/** Bath `index` was mixed fresh; its tally is as it is now. */
export function logMixed(index: i32, nowUs: i64): void {
  newBathUsed(index, nowUs);
  postWhole(EntryKind.BathUsed, BATH_USED_BYTES);
}

function newBathUsed(index: i32, nowUs: i64): BathUsed {
  const bath = bathAt(bathRow, index);
  const used = changetype<BathUsed>(blank(nowUs));
  used.bath = bath.bath;
  copyText(used.label, bath.label);
  used.totalSheets = bath.sheets;
  used.totalCm2 = bath.areaCm2;
  return used;
}

/** A test on paper was read, and the setting that it is about is so now. */
export function logTestResult(what: Finding, value: i32, nowUs: i64): void {
  const found = changetype<TestResult>(blank(nowUs));
  found.what = u8(what);
  found.value = value;
  postWhole(EntryKind.TestResult, TEST_RESULT_BYTES);
}
