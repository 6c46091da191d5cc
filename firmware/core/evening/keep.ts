/** Keeping the recipe in use on the shelf, as a new version in the place of the old one. */
import { logRecipeVersion } from '../log/entries';
import { activeRecipe, recipeBeginAt, recipeHeadAt, recipeLength } from '../recipe/recipe';
import { DocumentKind } from '../storage/shelf';
import { putDocument } from '../storage/shelf-writer';
import { StoreCode } from '../storage/store-code';
import { recipeChanged, recipeIsChanged } from './job';

/** The storage hands it back; below those of the line's requests. */
export const KEEP_TICKET: i32 = 500;

/** The flash is being written from the recipe in use, which must stay as it is meanwhile. */
export let keepingRecipe: bool = false;

/** After power-up. */
export function startKeeping(): void {
  keepingRecipe = false;
}

/** False when there is nothing to keep, or the shelf is full or busy. */
export function keepRecipe(): bool {
  if (!recipeChanged || keepingRecipe) return false;
  const head = recipeHeadAt(activeRecipe);
  head.version++;
  const name = recipeBeginAt(activeRecipe).name;
  const code = putDocument(DocumentKind.Recipe, name, activeRecipe, recipeLength(activeRecipe), KEEP_TICKET);
  keepingRecipe = code == StoreCode.Waiting;
  if (!keepingRecipe) head.version--;
  return keepingRecipe;
}

/** The storage has done with it. */
export function recipeStored(code: i32, nowUs: i64): void {
  keepingRecipe = false;
  const head = recipeHeadAt(activeRecipe);
  if (code == StoreCode.Done) {
    recipeIsChanged(false);
    logRecipeVersion(recipeBeginAt(activeRecipe).name, head.version, nowUs);
  } else {
    head.version--;
  }
}
