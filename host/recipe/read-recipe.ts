import { z } from 'zod';
import { loadPlanner, type PlanError, type PlannableRecipe, type RecipeConditions } from './planner/index.js';
import { type FieldProblem, fieldProblems, fieldWords } from './reading/field-problems.js';
import { readJson } from './reading/json-text.js';
import { anotherKind } from './reading/kind-of-file.js';
import { type PathPart, RecipeError } from './reading/problem.js';
import { placed } from './reading/read-by-schema.js';
import type { Recipe, RecipePass } from './recipe.js';
import { type ReadRecipe, recipeFile } from './recipe-file.js';
import { nameFromTitle } from './recipe-name.js';

/**
 * Reads a recipe file: UTF-8 JSON by the published schema. Every time and offset is then planned by the core
 * under `conditions`, an ideal lamp if they say nothing, so a recipe that is read can be printed.
 * @throws RecipeError with all problems at once, each with its path in the file and its line and column.
 */
export function readRecipe(bytes: Uint8Array | string, conditions: RecipeConditions = {}): Recipe {
  const json = readJson(bytes);
  if (!('locate' in json)) throw new RecipeError(json);
  const other = anotherKind(json.value, recipeFile.shape);
  if (other.length > 0) throw new RecipeError(placed(json, other));
  const read = recipeFile.safeParse(json.value, { error: fieldWords });
  if (!read.success)
    throw new RecipeError(
      placed(json, [...fieldProblems(read.error, json.value), ...partialProblems(json.value, conditions)]),
    );
  const recipe = recipeFromFile(read.data);
  const problems = [...nameProblems(recipe), ...planProblems(recipe, conditions)];
  if (problems.length > 0) throw new RecipeError(placed(json, problems));
  return recipe;
}

/** What the core says that cannot be printed of a recipe, by the fields of its file. */
export function planProblems(recipe: PlannableRecipe, conditions: RecipeConditions = {}): FieldProblem[] {
  return loadPlanner()
    .recipeFaults(recipe, conditions)
    .map((fault) => ({ path: pathOf(fault), message: `${fault.message}; ${fault.wayOut}` }));
}

/** What can be said of the plan of a file that is wrong elsewhere: the passes that can be read, on the base. */
function partialProblems(value: unknown, conditions: RecipeConditions): FieldProblem[] {
  const file = z.looseObject({ base: recipeFile.shape.base, passes: z.array(z.unknown()) }).safeParse(value);
  if (!file.success) return [];
  return file.data.passes.flatMap((written, index) => {
    const pass = recipeFile.shape.passes.element.safeParse(written);
    if (!pass.success) return [];
    const recipe = { baseMs: file.data.base, passes: [passFromFile(pass.data)] };
    return planProblems(recipe, conditions).map(({ path: [list, , ...inPass], message }) => ({
      path: [list!, index, ...inPass],
      message,
    }));
  });
}

function pathOf({ fault, figures: { pass, dodge } }: PlanError): PathPart[] {
  if (pass === undefined) return fault === 'base-out-of-range' ? ['base'] : ['passes'];
  return dodge === undefined ? ['passes', pass] : ['passes', pass, 'dodges', dodge];
}

function nameProblems({ name, title }: Recipe): FieldProblem[] {
  if (name !== '') return [];
  const message = `no name can be made of '${title}'; add a field name of small letters, digits and hyphens`;
  return [{ path: ['title'], message }];
}

function recipeFromFile(file: ReadRecipe): Recipe {
  const {
    $schema,
    name,
    aperture,
    magnification,
    columnHeightMm,
    focalLengthMm,
    dryDown,
    base,
    passes,
    ...same
  } = file;
  return {
    ...same,
    name: name ?? nameFromTitle(file.title),
    aperture10: aperture ?? 0,
    magnification1000: Math.round((magnification ?? 0) * 1000),
    columnHeightMm: columnHeightMm ?? 0,
    focalLengthMm: focalLengthMm ?? 0,
    dryDown10: dryDown ?? 0,
    baseMs: base,
    passes: passes.map(passFromFile),
  };
}

function passFromFile({ stops, dodges, ...same }: ReadRecipe['passes'][number]): RecipePass {
  return {
    ...same,
    stops120: stops,
    dodges: dodges.map(({ stops: pauseForDodges, ...dodge }) => ({ ...dodge, stops120: pauseForDodges })),
  };
}
