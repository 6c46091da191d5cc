import type { z } from 'zod';
import { jsonText } from '../json-text.js';
import { fieldProblems } from './reading/field-problems.js';
import { pathText, RecipeError, type RecipeProblem } from './reading/problem.js';
import type { Recipe, RecipePass } from './recipe.js';
import { type ReadRecipe, recipeFile, type WrittenRecipe } from './recipe-file.js';

/**
 * The text of a recipe's file, without the fields that say nothing; `readRecipe` undoes it.
 * @throws RecipeError if the recipe is none that a file could hold.
 */
export function writeRecipe(recipe: Recipe): string {
  return `${jsonText(fileFromRecipe(recipe), 2)}\n`;
}

/** The same as data. @throws RecipeError */
export function fileFromRecipe(recipe: Recipe): WrittenRecipe {
  const written = recipeFile.safeEncode(readFrom(recipe));
  if (!written.success) throw new RecipeError(problemsOf(written.error, recipe));
  const file = written.data;
  return withoutEmpty({ ...file, passes: file.passes.map(withoutEmpty) });
}

function problemsOf(error: z.ZodError, recipe: Recipe): RecipeProblem[] {
  return fieldProblems(error, readFrom(recipe)).map(({ path, message }) => ({
    path: pathText(path),
    message,
  }));
}

/** Leaves out what a reader puts back by itself: empty texts, empty lists, fields that are not there. */
function withoutEmpty<Fields extends object>(fields: Fields): Fields {
  const kept = Object.entries(fields).filter(([, value]) => value !== undefined && value?.length !== 0);
  return Object.fromEntries(kept) as Fields;
}

function readFrom(recipe: Recipe): ReadRecipe {
  const { aperture10, magnification1000, columnHeightMm, focalLengthMm, dryDown10, baseMs, passes, ...same } =
    recipe;
  return {
    ...same,
    aperture: aperture10 || undefined,
    magnification: magnification1000 / 1000 || undefined,
    columnHeightMm: columnHeightMm || undefined,
    focalLengthMm: focalLengthMm || undefined,
    dryDown: dryDown10 || undefined,
    base: baseMs,
    passes: passes.map(passFrom),
    history: [...recipe.history],
  };
}

/** A base that nobody named is the base: a board's recipe may have one. */
function passFrom({ stops120, dodges, ...same }: RecipePass): ReadRecipe['passes'][number] {
  return {
    ...same,
    label: same.label === '' && same.kind === 'base' ? 'base' : same.label,
    stops: stops120,
    dodges: dodges.map(({ stops120: dodgeStops120, ...dodge }) => ({ ...dodge, stops: dodgeStops120 })),
  };
}
