/** Keeping the recipe in use on the shelf, as a new version in the place of the old one. */
import { logRecipeVersion } from '../log/entries';
import { activeRecipe, recipeBeginAt, recipeHeadAt, recipeLength } from '../recipe/recipe';
import { chosen, keeping } from '../state/state';
import { DocumentKind } from '../storage/shelf';
import { putDocument } from '../storage/shelf-writer';
import { StoreCode } from '../storage/store-code';

/** The storage hands it back; below those of the line's requests. */
export const KEEP_TICKET: i32 = 500;

/** False when there is nothing to keep, or the shelf is full or busy. */
export function keepRecipe(): bool {
  if (!chosen.recipeIsChanged || keeping.recipe) return false;
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
    logRecipeVersion(recipeBeginAt(activeRecipe).name, head.version, nowUs);
  } else {
    head.version--;
  }
}
