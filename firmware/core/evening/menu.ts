/**
 * What the knob goes through at rest: the baths, the strip, the shelf's recipes by name and one that the shelf does
 * not have yet, a bracket of the recipe in use, and the tests on paper.
 */
import { Job } from '../generated/constants';
import { sameText } from '../protocol/texts';
import { activeRecipe, recipeBeginAt } from '../recipe/recipe';
import {
  countDocuments,
  DocumentKind,
  describeDocument,
  described,
  findDocument,
  nextDocument,
} from '../storage/shelf';
import { FINE, hasRecipe, takeRecipe } from './job';
import { situation } from './situation';

const BATHS_AT: i32 = 0;
const STRIP_AT: i32 = 1;
const RECIPES_AT: i32 = 2;
/** Behind the recipes. */
const AFTER_RECIPES: usize = memory.data<i32>([Job.Bracket, Job.SafelightTest, Job.LampTest]);
const COUNT_AFTER_RECIPES: i32 = 3;

/** Goes on by so many places, past what cannot be chosen, and stops at either end. */
export function turnMenu(clicks: i32): void {
  if (situation.job == Job.None) {
    choose(STRIP_AT); // nothing was chosen, by a laptop: either way leads back to where an evening begins
    return;
  }
  const step = clicks < 0 ? -1 : 1;
  let place = currentPlace();
  for (let left = abs(clicks); left > 0; left--) {
    let next = place + step;
    while (isPlace(next) && !choose(next)) next += step;
    if (!isPlace(next)) return;
    place = next;
  }
}

/** Asked anew at each place: one that the shelf does not have is gone as soon as another recipe is taken. */
function isPlace(place: i32): bool {
  return place >= 0 && place < recipesEnd() + COUNT_AFTER_RECIPES;
}

/** The place after the last recipe. */
function recipesEnd(): i32 {
  const kept = RECIPES_AT + countDocuments(DocumentKind.Recipe);
  return onlyInUse() ? kept + 1 : kept;
}

/** The recipe in use was never kept, or was dropped since. */
function onlyInUse(): bool {
  return hasRecipe() && findDocument(DocumentKind.Recipe, nameInUse()) < 0;
}

function nameInUse(): usize {
  return recipeBeginAt(activeRecipe).name;
}

function currentPlace(): i32 {
  switch (situation.job) {
    case Job.Process:
      return BATHS_AT;
    case Job.Strip:
      return STRIP_AT;
    case Job.Recipe:
      return recipePlace();
  }
  let place = recipesEnd();
  while (jobAfterRecipes(place) != situation.job) place++;
  return place;
}

function jobAfterRecipes(place: i32): Job {
  return <Job>load<i32>(AFTER_RECIPES + ((place - recipesEnd()) << 2));
}

function recipePlace(): i32 {
  let place = RECIPES_AT;
  for (let document = after(-1); document >= 0; document = after(document), place++) {
    if (describeDocument(document) && sameText(described.name, nameInUse())) return place;
  }
  return place;
}

function after(document: i32): i32 {
  return nextDocument(DocumentKind.Recipe, document);
}

/** False for a recipe that cannot be read, and for a bracket of none. */
function choose(place: i32): bool {
  if (place < RECIPES_AT) situation.job = place == BATHS_AT ? Job.Process : Job.Strip;
  else if (place < recipesEnd()) return chooseRecipe(place);
  else if (jobAfterRecipes(place) == Job.Bracket && !hasRecipe()) return false;
  else situation.job = jobAfterRecipes(place);
  return true;
}

function chooseRecipe(place: i32): bool {
  let document = after(-1);
  for (let before = RECIPES_AT; before < place && document >= 0; before++) document = after(document);
  if (document >= 0 && !takeDocument(document)) return false;
  situation.job = Job.Recipe;
  return true;
}

/** One that is in use already stays as it is, with all that the knob changed. */
function takeDocument(document: i32): bool {
  if (!describeDocument(document)) return false;
  return (hasRecipe() && sameText(described.name, nameInUse())) || takeRecipe(described.name) == FINE;
}
