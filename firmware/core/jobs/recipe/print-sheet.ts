/** What the log says of a sheet that is for the recipe in use. */
import { Sheet } from '../../generated/codec';
import { activeRecipe, recipeHeadAt } from '../../recipe/recipe';

export function describePrint(entry: Sheet): void {
  entry.version = recipeHeadAt(activeRecipe).version;
  entry.baseMs = recipeHeadAt(activeRecipe).baseMs;
}
