/**
 * What the knob goes through at rest: a plain exposure, the baths, the strip (where a recipe is in use a strip for
 * another negative stands before the one for that recipe), a recipe that the shelf does not have yet and those of the
 * shelf by name, a bracket of the recipe in use, and the tests on paper.
 */
import { Job } from '../generated/constants';
import {
  COUNT_BEFORE_RECIPES,
  COUNT_BEHIND_RECIPES,
  FIRST_JOB,
  isOfRecipe,
  isPrint,
  JOB_OF_RECIPES,
  jobBeforeRecipes,
  jobBehindRecipes,
  LAST_BEFORE_RECIPES,
} from '../jobs/kinds';
import { FINE, takeRecipe } from '../jobs/recipe/recipe-in-use';
import { sameText } from '../protocol/texts';
import { hasRecipe, nameInUse } from '../recipe/recipe';
import { chosen, left, situation } from '../state/state';
import {
  countDocuments,
  DocumentKind,
  describeDocument,
  described,
  findDocument,
  nextDocument,
} from '../storage/shelf';

/** Goes on by so many places, past what cannot be chosen, and stops at either end. */
export function turnMenu(clicks: i32): void {
  // The first click leads from the sheet that was left to what is chosen, and back to it from the far left.
  const step = clicks < 0 ? -1 : 1;
  if (left.isOffered) {
    left.isOffered = false;
    turnMenu(clicks - step);
    return;
  }
  if (clicks == 0) return;
  if (situation.job == Job.None) {
    situation.job = FIRST_JOB; // nothing was chosen, by a laptop: either way leads back to where an evening begins
    return;
  }
  for (let more = abs(clicks); more > 0; more--) {
    let next = currentPlace() + step;
    while (isPlace(next) && !choosePlace(next)) next += step;
    if (!isPlace(next)) {
      left.isOffered = next < 0 && left.job != Job.None;
      return;
    }
  }
}

/** Asked anew at each place: a recipe that the shelf does not have is gone as soon as another one is taken. */
function isPlace(place: i32): bool {
  return place >= 0 && place < recipesEnd() + COUNT_BEHIND_RECIPES;
}

/** The place of the first recipe. */
function recipesBegin(): i32 {
  return hasRecipe() ? COUNT_BEFORE_RECIPES + 1 : COUNT_BEFORE_RECIPES;
}

/** The place behind the last recipe. */
function recipesEnd(): i32 {
  const kept = recipesBegin() + countDocuments(DocumentKind.Recipe);
  return isOnlyInUse() ? kept + 1 : kept;
}

/** The recipe in use was never kept, or was removed since. */
function isOnlyInUse(): bool {
  return hasRecipe() && findDocument(DocumentKind.Recipe, nameInUse()) < 0;
}

function currentPlace(): i32 {
  const job = situation.job;
  if (isPrint(job)) return recipePlace();
  if (job == LAST_BEFORE_RECIPES) return chosen.isNewNegative ? recipesBegin() - 2 : recipesBegin() - 1;
  let place = 0;
  while (place < COUNT_BEFORE_RECIPES && jobBeforeRecipes(place) != job) place++;
  if (place < COUNT_BEFORE_RECIPES) return place;
  let behind = 0;
  while (jobBehindRecipes(behind) != job) behind++;
  return recipesEnd() + behind;
}

function recipePlace(): i32 {
  let place = recipesBegin();
  if (isOnlyInUse()) return place;
  for (let document = documentAfter(-1); document >= 0; document = documentAfter(document), place++) {
    if (describeDocument(document) && sameText(described.name, nameInUse())) return place;
  }
  return place;
}

function documentAfter(document: i32): i32 {
  return nextDocument(DocumentKind.Recipe, document);
}

/** False for a recipe that cannot be read, and for a bracket of none. */
function choosePlace(place: i32): bool {
  const begin = recipesBegin();
  if (place >= begin && place < recipesEnd()) return chooseRecipe(place - begin);
  const job = place < begin ? jobBefore(place) : jobBehindRecipes(place - recipesEnd());
  if (isOfRecipe(job) && !hasRecipe()) return false;
  chosen.isNewNegative = job == LAST_BEFORE_RECIPES && place != begin - 1;
  situation.job = job;
  return true;
}

/** Two places for the strip, where a recipe is in use. */
function jobBefore(place: i32): Job {
  return jobBeforeRecipes(min(place, COUNT_BEFORE_RECIPES - 1));
}

function documentAt(index: i32): i32 {
  let document = documentAfter(-1);
  for (let left = index; left > 0 && document >= 0; left--) document = documentAfter(document);
  return document;
}

function chooseRecipe(index: i32): bool {
  const left = isOnlyInUse() ? index - 1 : index;
  if (left >= 0 && !takeDocument(documentAt(left))) return false;
  situation.job = JOB_OF_RECIPES;
  return true;
}

/** One that is in use already stays as it is, with all that the knob changed. */
function takeDocument(document: i32): bool {
  if (!describeDocument(document)) return false;
  return (hasRecipe() && sameText(described.name, nameInUse())) || takeRecipe(described.name) == FINE;
}
