import { type Recipe, readRecipe } from '../recipe/index.js';
import type { RecipeConditions } from '../recipe/planner/index.js';
import { readOwnFile } from './read-own-file.js';

/** A recipe from its file. @throws as `readOwnFile` */
export function readRecipeFile(path: string, conditions: RecipeConditions = {}): Promise<Recipe> {
  return readOwnFile(path, (bytes) => readRecipe(bytes, conditions));
}
