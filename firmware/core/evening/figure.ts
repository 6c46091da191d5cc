/** The figure that the knob is at before an exposure or a bath, and which one a push goes on to. */
import { StripSet } from '../generated/codec';
import { Job, PassKind, RunState } from '../generated/constants';
import { activeRecipe, dodgesBefore, recipeBeginAt, recipePassAt } from '../recipe/recipe';
import { bracketSpread } from './bracket';
import { chosenStrip } from './job';
import { isFirstBath } from './processing';
import { sheetIsBegun } from './sheet';
import { situation } from './situation';

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
  /** Which pass of the recipe is given in versions. */
  Bracketed,
  /** Of the safelight test and of the lamp test. */
  Grey,
  FirstLag,
  /** Of the baths: which is next, how many sheets go in, of which paper, and whether the bath was mixed anew. */
  Bath,
  Sheets,
  Paper,
  Mixed,
}
export let figure: Figure = Figure.None;
/** Of Pass and Dodge, from 0; the dodge is counted within its pass. */
export let figurePass: i32 = 0;
export let figureDodge: i32 = 0;

/** The evening goes on to another state. */
export function stopTurning(): void {
  figure = Figure.None;
}

/** The strip, or what the bracket has like one. */
export function spread(): StripSet {
  return situation.job == Job.Bracket ? bracketSpread : chosenStrip;
}

export function toNextFigure(): void {
  if (situation.state == RunState.StepReady) figure = nextOfStep();
  else if (sheetIsBegun()) figure = situation.job == Job.SafelightTest ? Figure.None : Figure.NextPass;
  else figure = nextOfJob();
}

function nextOfJob(): Figure {
  switch (situation.job) {
    case Job.Strip:
      return nextOfPatches(Figure.FirstTime);
    case Job.Bracket:
      return nextOfPatches(Figure.Bracketed);
    case Job.SafelightTest:
      return Figure.Grey;
    case Job.LampTest:
      return Figure.FirstLag;
    default:
      return nextOfRecipe();
  }
}

/** From what is the sheet's own to step, patches and card, and round again. */
function nextOfPatches(first: Figure): Figure {
  if (figure == first) return Figure.Step;
  return figure == Figure.Step || figure == Figure.Patches ? figure + 1 : first;
}

/** Which paper it is, is asked at the first bath. */
function nextOfStep(): Figure {
  if (situation.job != Job.Process) return Figure.None;
  if (figure == Figure.None || figure == Figure.Mixed) return Figure.Bath;
  if (figure == Figure.Sheets && !isFirstBath()) return Figure.Mixed;
  return figure + 1;
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
