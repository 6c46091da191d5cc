import { type Recipe, readRecipe } from '../recipe/index.js';
import type { RecipeConditions } from '../recipe/planner/index.js';
import { readOwnFile } from './read-own-file.js';

/** The argument that names a recipe's file, as help shows it. */
export const RECIPE_ARGUMENT = '<recipe>';
export const RECIPE_ARGUMENT_WORDS = 'recipe file, or - for standard input';

/** A recipe from its file. @throws as `readOwnFile` */
export function readRecipeFile(path: string, conditions: RecipeConditions = {}): Promise<Recipe> {
  return readOwnFile(path, RECIPE_ARGUMENT, (bytes) => readRecipe(bytes, conditions));
}
