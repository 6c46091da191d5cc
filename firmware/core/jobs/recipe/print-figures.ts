/** What the knob turns before a print: the base in stops and in round seconds, then pass by pass its offset and its dodges, then the next pass. */
import { Turnable } from '../../generated/constants';
import { stopsAfter120, timeAfterMs, timeInSecondsAfterMs } from '../../knob/turned-time';
import { logRecipeChange } from '../../log/entries';
import {
  activeRecipe,
  dodgeFine3M,
  dodgesBefore,
  isAtBase,
  passFine3M,
  recipeBeginAt,
  recipeDodgeAt,
  recipeHeadAt,
  recipePassAt,
} from '../../recipe/recipe';
import { NEXT_PASS, NO_FIGURE } from '../../state/chosen';
import { chosen } from '../../state/state';
import { logTakenAnew } from './recipe-in-use';

export enum PrintFigure {
  Base = 2, // FIRST_OWN_FIGURE
  BaseSeconds,
  Pass,
  Dodge,
}

export function nextPrintFigure(): i32 {
  const figure = chosen.figure;
  if (figure == NEXT_PASS) return NO_FIGURE;
  if (figure == NO_FIGURE) return PrintFigure.Base;
  if (figure == PrintFigure.Base) return PrintFigure.BaseSeconds;
  if (figure == PrintFigure.BaseSeconds) {
    chosen.figurePass = -1;
    chosen.figureDodge = 0;
  } else if (figure == PrintFigure.Pass) {
    chosen.figureDodge = -1;
  }
  if (chosen.figurePass >= 0 && ++chosen.figureDodge < dodgesOf(chosen.figurePass)) return PrintFigure.Dodge;
  return nextInPasses();
}

/** The first figure of the passes that follow; one that is the base itself has none of its own. */
function nextInPasses(): i32 {
  const passes = i32(recipeBeginAt(activeRecipe).passes);
  let next = chosen.figurePass + 1;
  while (next < passes && isAtBase(activeRecipe, next) && dodgesOf(next) == 0) next++;
  chosen.figurePass = next;
  if (next >= passes) return NEXT_PASS;
  if (!isAtBase(activeRecipe, next)) return PrintFigure.Pass;
  chosen.figureDodge = 0;
  return PrintFigure.Dodge;
}

function dodgesOf(pass: i32): i32 {
  return recipePassAt(activeRecipe, pass).dodges;
}

/** The dodge that the knob is at, counted through the whole recipe. */
export function figureDodgeIndex(): i32 {
  return dodgesBefore(activeRecipe, chosen.figurePass) + chosen.figureDodge;
}

/** The base is turned, in stops or in seconds. */
export function isBaseTurned(): bool {
  return chosen.figure <= PrintFigure.BaseSeconds;
}

export function printFigureValue(): i32 {
  if (isBaseTurned()) return recipeHeadAt(activeRecipe).baseMs;
  return chosen.figure == PrintFigure.Pass
    ? recipePassAt(activeRecipe, chosen.figurePass).stops120
    : recipeDodgeAt(activeRecipe, figureDodgeIndex()).stops120;
}

/** What the knob leaves as it is: of a pass or a dodge. */
export function printFigureFine3M(): i32 {
  return chosen.figure == PrintFigure.Pass
    ? passFine3M(activeRecipe, chosen.figurePass)
    : dodgeFine3M(activeRecipe, figureDodgeIndex());
}

export function setPrintFigure(value: i32): void {
  if (isBaseTurned()) recipeHeadAt(activeRecipe).baseMs = value;
  else if (chosen.figure == PrintFigure.Pass)
    recipePassAt(activeRecipe, chosen.figurePass).stops120 = i16(value);
  else recipeDodgeAt(activeRecipe, figureDodgeIndex()).stops120 = i16(value);
}

export function printFigureAfter(value: i32, clicks: i32): i32 {
  if (!isBaseTurned()) return stopsAfter120(value, clicks);
  return chosen.figure == PrintFigure.Base ? timeAfterMs(value, clicks) : timeInSecondsAfterMs(value, clicks);
}

export function logPrintFigure(nowUs: i64): void {
  const figure = chosen.figure;
  if (figure < PrintFigure.Base) return;
  logTakenAnew(nowUs);
  const isBase = isBaseTurned();
  const what = isBase ? Turnable.Base : figure == PrintFigure.Pass ? Turnable.Pass : Turnable.Dodge;
  const pass = isBase ? 0 : chosen.figurePass + 1;
  const dodge = what == Turnable.Dodge ? chosen.figureDodge + 1 : 0;
  const stops120 = isBase ? 0 : printFigureValue();
  const baseMs = i32(recipeHeadAt(activeRecipe).baseMs);
  logRecipeChange(recipeBeginAt(activeRecipe).name, what, pass, dodge, baseMs, stops120, nowUs);
}
