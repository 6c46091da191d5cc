/**
 * What the knob goes through at rest: the baths, the strip, the shelf's recipes by name and one that the shelf does
 * not have yet, a bracket of the recipe in use, and the tests on paper.
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
} from '../jobs/kinds';
import { FINE, hasRecipe, nameInUse, takeRecipe } from '../jobs/recipe/recipe-in-use';
import { sameText } from '../protocol/texts';
import { situation } from '../state/state';
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
  if (situation.job == Job.None) {
    situation.job = FIRST_JOB; // nothing was chosen, by a laptop: either way leads back to where an evening begins
    return;
  }
  const step = clicks < 0 ? -1 : 1;
  let place = currentPlace();
  for (let left = abs(clicks); left > 0; left--) {
    let next = place + step;
    while (isPlace(next) && !choosePlace(next)) next += step;
    if (!isPlace(next)) return;
    place = next;
  }
}

/** Asked anew at each place: a recipe that the shelf does not have is gone as soon as another one is taken. */
function isPlace(place: i32): bool {
  return place >= 0 && place < recipesEnd() + COUNT_BEHIND_RECIPES;
}

/** The place behind the last recipe. */
function recipesEnd(): i32 {
  const kept = COUNT_BEFORE_RECIPES + countDocuments(DocumentKind.Recipe);
  return isOnlyInUse() ? kept + 1 : kept;
}

/** The recipe in use was never kept, or was removed since. */
function isOnlyInUse(): bool {
  return hasRecipe() && findDocument(DocumentKind.Recipe, nameInUse()) < 0;
}

function currentPlace(): i32 {
  if (isPrint(situation.job)) return recipePlace();
  let place = 0;
  while (place < COUNT_BEFORE_RECIPES && jobBeforeRecipes(place) != situation.job) place++;
  if (place < COUNT_BEFORE_RECIPES) return place;
  let behind = 0;
  while (jobBehindRecipes(behind) != situation.job) behind++;
  return recipesEnd() + behind;
}

function recipePlace(): i32 {
  let place = COUNT_BEFORE_RECIPES;
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
  if (place >= COUNT_BEFORE_RECIPES && place < recipesEnd()) return chooseRecipe(place);
  const job = place < COUNT_BEFORE_RECIPES ? jobBeforeRecipes(place) : jobBehindRecipes(place - recipesEnd());
  if (isOfRecipe(job) && !hasRecipe()) return false;
  situation.job = job;
  return true;
}

function chooseRecipe(place: i32): bool {
  let document = documentAfter(-1);
  for (let before = COUNT_BEFORE_RECIPES; before < place && document >= 0; before++)
    document = documentAfter(document);
  if (document >= 0 && !takeDocument(document)) return false;
  situation.job = JOB_OF_RECIPES;
  return true;
}

/** One that is in use already stays as it is, with all that the knob changed. */
function takeDocument(document: i32): bool {
  if (!describeDocument(document)) return false;
  return (hasRecipe() && sameText(described.name, nameInUse())) || takeRecipe(described.name) == FINE;
}
