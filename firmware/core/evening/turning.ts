/**
 * The knob before an exposure or a bath: a push goes from one figure to the next, a turn changes it, and what is
 * planned changes with it at once. Once a sheet has had light, only the pass to be given next can be turned.
 */
import { bathAt, bathFrom, bathRow, tallyIs } from '../baths/baths';
import { Cover, SettingName, Turnable } from '../generated/constants';
import { turnedStops120, turnedTimeMs } from '../knob/turned-time';
import { logMixed, logRecipeChange } from '../log/entries';
import { LAMP_TEST_STEP_MS } from '../plan/lamp-test-plan';
import { eveningPlan } from '../plan/plan';
import { activeRecipe, recipeBeginAt, recipeDodgeAt, recipeHeadAt, recipePassAt } from '../recipe/recipe';
import { changeSetting, settingValue } from '../settings/settings';
import { bracketPass, bracketPassIs } from './bracket';
import { Figure, figure, figureDodge, figureDodgeIndex, figurePass, spread, toNextFigure } from './figure';
import { chosenStrip, planAsItIs, recipeIsChanged } from './job';
import { beginPass, passIndex } from './pass';
import { bathIndex, bathIsNext, beginBaths, sheetsAre, sheetsInBaths } from './processing';
import { firstLagMs, greyIs, greyMs, testLagsFrom } from './tests-on-paper';
import { Unkept, willBeKept } from './unkept';

let unlogged: bool = false;
/** What had gone through the bath before the knob said that it was mixed anew. */
let sheetsBefore: i32 = 0;
let areaBefore: u32 = 0;

/** Steps of a strip that the knob offers, in 1/120 stop: 1/12, 1/6, 1/4, 1/3, 1/2, 1. */
const STEPS: usize = memory.data<u8>([10, 20, 30, 40, 60, 120]);
const STEP_COUNT: i32 = 6;

/** A push: the next figure. */
export function nextFigure(nowUs: i64): void {
  turningIsLogged(nowUs);
  toNextFigure();
  const bath = bathAt(bathRow, bathIndex);
  sheetsBefore = bath.sheets;
  areaBefore = bath.areaCm2;
}

/** A turn: false when the figure cannot be so, and stays. */
export function turnFigure(clicks: i32, nowUs: i64): bool {
  if (figure == Figure.None) nextFigure(nowUs);
  if (figure == Figure.None) return false;
  if (figure == Figure.NextPass) return turnNextPass(clicks);
  const before = figureValue();
  setFigure(turned(before, clicks));
  const isFine = planAsItIs();
  if (!isFine) {
    setFigure(before);
    planAsItIs();
  } else {
    unlogged = true;
    if (figure < Figure.FirstTime) recipeIsChanged(true);
  }
  if (eveningPlan.passCount != 0) beginPass(min(passIndex, eveningPlan.passCount - 1));
  return isFine;
}

function turnNextPass(clicks: i32): bool {
  const next = passIndex + clicks;
  if (next < 0 || next >= eveningPlan.passCount) return false;
  planAsItIs();
  beginPass(next);
  return true;
}

export function figureValue(): i32 {
  switch (figure) {
    case Figure.Base:
      return recipeHeadAt(activeRecipe).baseMs;
    case Figure.Pass:
      return recipePassAt(activeRecipe, figurePass).stops120;
    case Figure.Dodge:
      return recipeDodgeAt(activeRecipe, figureDodgeIndex()).stops120;
    case Figure.FirstTime:
      return chosenStrip.firstMs;
    case Figure.Step:
      return spread().stepStops120;
    case Figure.Patches:
      return spread().patches;
    case Figure.Cover:
      return spread().cover;
    case Figure.Bracketed:
      return bracketPass;
    case Figure.Grey:
      return greyMs;
    case Figure.FirstLag:
      return firstLagMs;
    case Figure.Bath:
      return bathIndex;
    case Figure.Sheets:
      return sheetsInBaths;
    case Figure.Paper:
      return settingValue(SettingName.FibrePaper);
    default:
      return bathAt(bathRow, bathIndex).sheets;
  }
}

function setFigure(value: i32): void {
  switch (figure) {
    case Figure.Base:
      recipeHeadAt(activeRecipe).baseMs = value;
      return;
    case Figure.Pass:
      recipePassAt(activeRecipe, figurePass).stops120 = i16(value);
      return;
    case Figure.Dodge:
      recipeDodgeAt(activeRecipe, figureDodgeIndex()).stops120 = i16(value);
      return;
    case Figure.FirstTime:
      chosenStrip.firstMs = value;
      return;
    case Figure.Step:
      spread().stepStops120 = u16(value);
      return;
    case Figure.Patches:
      spread().patches = u8(value);
      return;
    case Figure.Cover:
      spread().cover = u8(value);
      return;
    case Figure.Bracketed:
      bracketPassIs(value);
      return;
    case Figure.Grey:
      greyIs(value);
      return;
    case Figure.FirstLag:
      testLagsFrom(value);
      return;
    case Figure.Bath:
      bathIsNext(value);
      return;
    case Figure.Sheets:
      sheetsAre(value);
      return;
    case Figure.Paper:
      changeSetting(SettingName.FibrePaper, value);
      beginBaths();
      return;
    default:
      tallyIs(bathAt(bathRow, bathIndex), value, value == 0 ? 0 : areaBefore);
  }
}

function turned(value: i32, clicks: i32): i32 {
  switch (figure) {
    case Figure.Base:
    case Figure.FirstTime:
    case Figure.Grey:
      return turnedTimeMs(value, clicks);
    case Figure.Step:
      return turnedStep(value, clicks);
    case Figure.Patches:
      return max(0, value + clicks);
    case Figure.Cover:
      return value == Cover.Separate ? Cover.Cumulative : Cover.Separate;
    case Figure.Bracketed:
    case Figure.Sheets:
      return value + clicks;
    case Figure.FirstLag:
      return value + clicks * LAMP_TEST_STEP_MS;
    case Figure.Bath:
      return bathFrom(value, clicks);
    case Figure.Paper:
      return clicks > 0 ? 1 : 0;
    case Figure.Mixed:
      return clicks > 0 ? 0 : sheetsBefore;
    default:
      return turnedStops120(value, clicks);
  }
}

/** The step that is `clicks` further in the row of those offered. */
function turnedStep(stops120: i32, clicks: i32): i32 {
  let place = 0;
  while (place < STEP_COUNT && i32(load<u8>(STEPS + place)) < stops120) place++;
  return load<u8>(STEPS + max(0, min(STEP_COUNT - 1, place + clicks)));
}

/** What was turned goes into the log when the knob leaves it, or when the sheet is begun. */
export function turningIsLogged(nowUs: i64): void {
  if (!unlogged) return;
  unlogged = false;
  const name = recipeBeginAt(activeRecipe).name;
  const baseMs = i32(recipeHeadAt(activeRecipe).baseMs);
  if (figure == Figure.Base) logRecipeChange(name, Turnable.Base, 0, 0, baseMs, 0, nowUs);
  else if (figure == Figure.Pass)
    logRecipeChange(name, Turnable.Pass, figurePass + 1, 0, baseMs, figureValue(), nowUs);
  else if (figure == Figure.Dodge)
    logRecipeChange(name, Turnable.Dodge, figurePass + 1, figureDodge + 1, baseMs, figureValue(), nowUs);
  else if (figure == Figure.Paper) willBeKept(Unkept.Settings);
  else if (figure == Figure.Mixed) mixedIsLogged(nowUs);
}

function mixedIsLogged(nowUs: i64): void {
  if (bathAt(bathRow, bathIndex).sheets != 0) return;
  logMixed(bathIndex, nowUs);
  willBeKept(Unkept.Baths);
}
