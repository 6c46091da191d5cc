import { isSameOnBoard } from '../../recipe/board-recipe.js';
import type { Recipe } from '../../recipe/recipe.js';
import { withHistory } from '../../recipe/revised.js';
import type { KeptRecipe } from '../archive/archive.js';
import { nextVersion } from '../recipes/not-over.js';
import type { PrintedSheet } from './printed-sheet.js';
import type { RecipeAgain } from './recipe-again.js';

export interface AgainAsVersion {
  readonly recipe: Recipe;
  /** It has a number of its own, since nothing that was kept prints the same. */
  readonly isNew: boolean;
}

/**
 * The recipe of a sheet under the version that prints the same, or under a new one whose history says where it comes from.
 * @param recipe as given, with what is changed of it
 * @param kept all of that name
 */
export function againAsVersion(
  recipe: Recipe,
  { differences }: Pick<RecipeAgain, 'differences'>,
  sheet: Pick<PrintedSheet, 'sheet' | 'night' | 'recipe' | 'version'>,
  kept: readonly KeptRecipe[],
): AgainAsVersion {
  const same = kept.findLast((one) => isSameOnBoard(one.recipe, recipe));
  if (same !== undefined) return { recipe: { ...recipe, version: same.recipe.version }, isNew: false };
  const newest = { ...recipe, version: recipe.name === sheet.recipe ? sheet.version + 1 : 1 };
  const version = nextVersion(newest, undefined, kept);
  return { recipe: withItsSheet({ ...recipe, version }, differences, sheet), isNew: true };
}

function withItsSheet(
  recipe: Recipe,
  differences: readonly string[],
  { sheet, night }: Pick<PrintedSheet, 'sheet' | 'night'>,
): Recipe {
  const as = `as sheet ${sheet}${night === null ? '' : ` of ${night}`} was given`;
  const lines = differences.length === 0 ? [as] : differences.map((one) => `${as}: ${one}`);
  return withHistory(recipe, recipe, lines, new Date());
}
