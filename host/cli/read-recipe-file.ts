import { readFile } from 'node:fs/promises';
import type { RecipeConditions } from '../planner/index.js';
import { type Recipe, RecipeError, readRecipe } from '../recipe/index.js';
import { UsageError } from './usage-error.js';

/**
 * A recipe from its file, for commands that cannot go on without one.
 * @throws UsageError that lists every problem; the errors of the file system as they are.
 */
export async function readRecipeFile(path: string, conditions: RecipeConditions = {}): Promise<Recipe> {
  const bytes = await readFile(path);
  try {
    return readRecipe(bytes, conditions);
  } catch (error) {
    if (!(error instanceof RecipeError)) throw error;
    throw new UsageError(`${path} cannot be used:\n${error.message}`);
  }
}
