/** Keeping a print on the shelf as a recipe: under its own name as a new version, or under that of a negative. */
import { isOfRecipe } from '../jobs/kinds';
import { plainFilter } from '../jobs/plain/plain-light';
import { OWN_NAME } from '../jobs/recipe/keep-as';
import { negativeName } from '../jobs/recipe/negatives';
import { logTakenAnew, makePlainRecipe } from '../jobs/recipe/recipe-in-use';
import { logRecipeVersion } from '../log/entries';
import { activeRecipe, nameRecipe, recipeBeginAt, recipeHeadAt, recipeLength } from '../recipe/recipe';
import { chosen, keeping, situation } from '../state/state';
import { DocumentKind } from '../storage/shelf';
import { putDocument } from '../storage/shelf-writer';
import { StoreCode } from '../storage/store-code';

/** The storage hands it back; below those of the line's requests. */
export const KEEP_TICKET: i32 = 500;

/** Keeps what is chosen as the knob says; false when there is nothing to keep, or the shelf is full or busy. */
export function keepAsChosen(): bool {
  if (keeping.recipe || keeping.inBackground) return false;
  if (!isOfRecipe(situation.job)) {
    if (!makePlainRecipe(chosen.keepAs, plainFilter())) return false;
    recipeHeadAt(activeRecipe).baseMs = chosen.plainMs;
  } else if (chosen.keepAs != OWN_NAME) {
    giveNumber(chosen.keepAs);
  }
  return keepRecipe();
}

/** It is another recipe from here on, and what the shelf has of the old name stays. */
function giveNumber(number: i32): void {
  nameRecipe(activeRecipe, negativeName(number));
  recipeHeadAt(activeRecipe).version = 0;
  chosen.recipeIsChanged = true;
  chosen.recipeIsOld = false;
}

function keepRecipe(): bool {
  if (!chosen.recipeIsChanged) return false;
  const head = recipeHeadAt(activeRecipe);
  head.version++;
  const name = recipeBeginAt(activeRecipe).name;
  const code = putDocument(DocumentKind.Recipe, name, activeRecipe, recipeLength(activeRecipe), KEEP_TICKET);
  keeping.recipe = code == StoreCode.Waiting;
  if (!keeping.recipe) head.version--;
  return keeping.recipe;
}

/** The storage has done with it. */
export function endKeepingRecipe(code: i32, nowUs: i64): void {
  keeping.recipe = false;
  const head = recipeHeadAt(activeRecipe);
  if (code == StoreCode.Done) {
    chosen.recipeIsChanged = false;
    chosen.baseIsFound = false;
    logTakenAnew(nowUs);
    logRecipeVersion(recipeBeginAt(activeRecipe).name, head.version, nowUs);
  } else {
    head.version--;
  }
}
