import type { Recipe } from '../../recipe/recipe.js';
import type { Archive } from '../archive/archive.js';
import { numberToSend } from './not-over.js';

/** Keeps a recipe that was on no board as a version of its own, under the number that it bears or, where that is another's, the next. */
export async function keepRecipeByHand(
  archive: Pick<Archive, 'recipes' | 'keepRecipe'>,
  recipe: Recipe,
): Promise<Recipe> {
  const { version } = numberToSend(recipe, undefined, await archive.recipes(recipe.name));
  const kept = { ...recipe, version };
  await archive.keepRecipe(kept, null, { how: 'saved' });
  return kept;
}
