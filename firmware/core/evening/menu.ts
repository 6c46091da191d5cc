/** What the knob goes through at rest: the strip, the shelf's recipes by name, and one that the shelf does not have yet. */
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

const STRIP_AT: i32 = 0;
const RECIPES_AT: i32 = 1;

/** Goes on by so many places, past recipes that cannot be read, and stops at either end. */
export function turnMenu(clicks: i32): void {
  if (situation.job == Job.None) {
    choose(STRIP_AT); // nothing was chosen, by a laptop: either way leads back to where an evening begins
    return;
  }
  const step = clicks < 0 ? -1 : 1;
  const last = lastPlace();
  let place = currentPlace();
  for (let left = abs(clicks); left > 0; left--) {
    let next = place + step;
    while (next >= STRIP_AT && next <= last && !choose(next)) next += step;
    if (next < STRIP_AT || next > last) return;
    place = next;
  }
}

function lastPlace(): i32 {
  const kept = RECIPES_AT + countDocuments(DocumentKind.Recipe);
  return onlyInUse() ? kept : kept - 1;
}

/** The recipe in use was never kept, or was dropped since. */
function onlyInUse(): bool {
  return hasRecipe() && findDocument(DocumentKind.Recipe, nameInUse()) < 0;
}

function nameInUse(): usize {
  return recipeBeginAt(activeRecipe).name;
}

function currentPlace(): i32 {
  if (situation.job != Job.Recipe) return STRIP_AT;
  let place = RECIPES_AT;
  for (let document = after(-1); document >= 0; document = after(document), place++) {
    if (describeDocument(document) && sameText(described.name, nameInUse())) return place;
  }
  return place;
}

function after(document: i32): i32 {
  return nextDocument(DocumentKind.Recipe, document);
}

function choose(place: i32): bool {
  if (place == STRIP_AT) {
    situation.job = Job.Strip;
    return true;
  }
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
