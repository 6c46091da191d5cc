/**
 * Backing out of a sheet asks nothing, and can be taken back: what is still to be given of it, and what it was given
 * from, is kept until another sheet has light or sheets go to the baths. In the log it is given up, and then gone on with.
 */
import { STRIP_SET_BYTES } from '../generated/codec';
import { Job, RunState } from '../generated/constants';
import { isOfRecipe, stepFollows } from '../jobs/kinds';
import { takePaperOut } from '../jobs/paper-out';
import { markRecipeChanged } from '../jobs/recipe/recipe-in-use';
import { setAside } from '../jobs/recipe/set-aside';
import { logSheetResumed } from '../log/entries';
import { firstLeftOut } from '../plan/giving';
import { eveningPlan, leftPlan, PLAN_BYTES } from '../plan/plan';
import { activeRecipe, RECIPE_BODY_BYTES } from '../recipe/recipe';
import { NEXT_PASS } from '../state/chosen';
import { Given } from '../state/given';
import { leftChosen, leftGiven, leftSpread, leftStrip } from '../state/noted';
import { Due, Refusal } from '../state/situation';
import { bracketSpread, chosen, chosenStrip, given, left, paper, situation, timed } from '../state/state';
import { enter } from './enter';
import { planKeptSheet, takeKeptRecipe } from './kept-sheet';
import { leftRecipe, noteSheet } from './noted-sheet';
import { Asked, askedOfOrder } from './what-is-asked';

/** Of a sheet that had light; the pass that is next, or its rest, is what it will go on with. */
export function leaveSheet(): void {
  if (stepFollows(situation.job)) return;
  left.job = situation.job;
  left.isOffered = true;
  left.wasOut = paper.isOut && paper.oldestOut == paper.sheet;
  left.outSinceUs = paper.outSinceUs;
  noteSheet();
}

/** Another sheet had light, or it is developed as it is. */
export function forgetLeftSheet(): void {
  left.job = Job.None;
  left.isOffered = false;
}

/** The sheet is under the enlarger again. */
export function goOnWithSheet(nowUs: i64): void {
  if (!takeSheetBack()) {
    left.isOffered = false;
    situation.due = Due.Wrong;
    return;
  }
  situation.refusal = Refusal.None;
  timed.jobBefore = Job.None;
  forgetLeftSheet();
  paper.isBegun = true;
  paper.isLit = true;
  paper.isOpen = true;
  paper.wasted = max(0, paper.wasted - 1);
  if (left.wasOut) takePaperOut(left.outSinceUs);
  logSheetResumed(paper.sheet, paper.prints, paper.strips, paper.wasted, nowUs);
  enter(RunState.Ready, nowUs);
  askAboutOrder();
}

/** A light that was cut, or chosen out of turn, is asked about once more: nobody may remember what was answered. */
function askAboutOrder(): void {
  if (given.isRest || askedOfOrder() == Asked.Pass) return;
  chosen.figure = NEXT_PASS;
  chosen.passDue = firstLeftOut();
}

/** What it was given from, and what it is still to get, is as it was. */
function takeSheetBack(): bool {
  const isFromShelf = left.isFromShelf;
  if (isFromShelf ? !takeKeptRecipe() : isOfRecipe(left.job) && !takeRecipeBack()) return false;
  takeChosenBack();
  situation.job = left.job;
  return !isFromShelf || planKeptSheet();
}

/** False while what was found of another recipe is still being kept. */
function takeRecipeBack(): bool {
  if (memory.compare(leftRecipe, activeRecipe, RECIPE_BODY_BYTES) == 0) return true;
  if (!setAside()) return false;
  memory.copy(activeRecipe, leftRecipe, RECIPE_BODY_BYTES);
  chosen.recipeIsChanged = leftChosen.recipeIsChanged;
  chosen.baseIsFound = leftChosen.baseIsFound;
  if (chosen.recipeIsChanged) markRecipeChanged();
  return true;
}

function takeChosenBack(): void {
  memory.copy(changetype<usize>(eveningPlan), changetype<usize>(leftPlan), PLAN_BYTES);
  memory.copy(changetype<usize>(given), changetype<usize>(leftGiven), offsetof<Given>());
  given.onUs = 0;
  given.doseUs = 0;
  given.pauses = 0;
  memory.copy(changetype<usize>(chosenStrip), changetype<usize>(leftStrip), STRIP_SET_BYTES);
  memory.copy(changetype<usize>(bracketSpread), changetype<usize>(leftSpread), STRIP_SET_BYTES);
  chosen.bracketPass = leftChosen.bracketPass;
  chosen.firstLagMs = leftChosen.firstLagMs;
  chosen.greyMs = leftChosen.greyMs;
  chosen.plainMs = leftChosen.plainMs;
  chosen.plainFilter = leftChosen.plainFilter;
  chosen.isNewNegative = leftChosen.isNewNegative;
}
