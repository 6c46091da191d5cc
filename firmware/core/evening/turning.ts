/**
 * The knob before an exposure: a push goes from one figure to the next, a turn changes it, and what is planned
 * changes with it at once. Once a sheet has had light, only the pass to be given next can be turned.
 */
import { Cover, Job, PassKind, Turnable } from '../generated/constants';
import { turnedStops120, turnedTimeMs } from '../knob/turned-time';
import { logTurned } from '../log/entries';
import { eveningPlan } from '../plan/plan';
import {
  activeRecipe,
  dodgesBefore,
  recipeBeginAt,
  recipeDodgeAt,
  recipeHeadAt,
  recipePassAt,
} from '../recipe/recipe';
import { chosenStrip, planAsItIs, recipeIsChanged } from './job';
import { beginPass, passIndex } from './pass';
import { sheetIsBegun } from './sheet';
import { situation } from './situation';

/** The figure that the knob is at. */
export enum Figure {
  None,
  Base,
  Pass,
  Dodge,
  /** Which pass is given next. */
  NextPass,
  FirstTime,
  Step,
  Patches,
  Cover,
}
export let figure: Figure = Figure.None;
/** Of Pass and Dodge, from 0; the dodge is counted within its pass. */
export let figurePass: i32 = 0;
export let figureDodge: i32 = 0;
let unlogged: bool = false;

/** Steps of a strip that the knob offers, in 1/120 stop: 1/12, 1/6, 1/4, 1/3, 1/2, 1. */
const STEPS: usize = memory.data<u8>([10, 20, 30, 40, 60, 120]);
const STEP_COUNT: i32 = 6;

/** The evening goes on to another state. */
export function stopTurning(): void {
  figure = Figure.None;
}

/** A push: the next figure. */
export function nextFigure(nowUs: i64): void {
  turningIsLogged(nowUs);
  if (situation.job == Job.Strip) figure = sheetIsBegun() ? Figure.NextPass : nextOfStrip();
  else figure = sheetIsBegun() ? Figure.NextPass : nextOfRecipe();
}

function nextOfStrip(): Figure {
  return figure < Figure.FirstTime || figure == Figure.Cover ? Figure.FirstTime : figure + 1;
}

function nextOfRecipe(): Figure {
  if (figure == Figure.None || figure == Figure.NextPass) return Figure.Base;
  if (figure == Figure.Base) {
    figurePass = -1;
    figureDodge = 0;
  } else if (figure == Figure.Pass) {
    figureDodge = -1;
  }
  if (figurePass >= 0 && ++figureDodge < dodgesOf(figurePass)) return Figure.Dodge;
  return nextInPasses();
}

/** The first figure of the passes that follow; one that is the base itself has none of its own. */
function nextInPasses(): Figure {
  const passes = i32(recipeBeginAt(activeRecipe).passes);
  for (figurePass++; figurePass < passes; figurePass++) {
    const pass = recipePassAt(activeRecipe, figurePass);
    if (pass.kind != PassKind.Base || pass.stops120 != 0) return Figure.Pass;
    figureDodge = 0;
    if (pass.dodges != 0) return Figure.Dodge;
  }
  return Figure.NextPass;
}

function dodgesOf(pass: i32): i32 {
  return recipePassAt(activeRecipe, pass).dodges;
}

/** The dodge that the knob is at, counted through the whole recipe. */
export function figureDodgeIndex(): i32 {
  return dodgesBefore(activeRecipe, figurePass) + figureDodge;
}

/** A turn: false when the figure cannot be so, and stays. */
export function turnFigure(clicks: i32, nowUs: i64): bool {
  if (figure == Figure.None) nextFigure(nowUs);
  if (figure == Figure.NextPass) return turnNextPass(clicks);
  const before = figureValue();
  setFigure(turned(before, clicks));
  const isFine = planAsItIs();
  if (!isFine) {
    setFigure(before);
    planAsItIs();
  } else if (figure < Figure.FirstTime) {
    unlogged = true;
    recipeIsChanged(true);
  }
  beginPass(min(passIndex, eveningPlan.passCount - 1));
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
      return chosenStrip.stepStops120;
    case Figure.Patches:
      return chosenStrip.patches;
    default:
      return chosenStrip.cover;
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
      chosenStrip.stepStops120 = u16(value);
      return;
    case Figure.Patches:
      chosenStrip.patches = u8(value);
      return;
    default:
      chosenStrip.cover = u8(value);
  }
}

function turned(value: i32, clicks: i32): i32 {
  switch (figure) {
    case Figure.Base:
    case Figure.FirstTime:
      return turnedTimeMs(value, clicks);
    case Figure.Step:
      return turnedStep(value, clicks);
    case Figure.Patches:
      return max(0, value + clicks);
    case Figure.Cover:
      return value == Cover.Separate ? Cover.Cumulative : Cover.Separate;
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
  if (figure == Figure.Base) logTurned(name, Turnable.Base, 0, 0, baseMs, 0, nowUs);
  else if (figure == Figure.Pass)
    logTurned(name, Turnable.Pass, figurePass + 1, 0, baseMs, figureValue(), nowUs);
  else if (figure == Figure.Dodge)
    logTurned(name, Turnable.Dodge, figurePass + 1, figureDodge + 1, baseMs, figureValue(), nowUs);
}
