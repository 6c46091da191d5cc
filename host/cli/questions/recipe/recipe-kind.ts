import { recipeAdvice } from '../../../daylight/advice.js';
import { filterAdvice } from '../../../daylight/filters/filter-advice.js';
import type { FilterTable } from '../../../daylight/filters/filter-table.js';
import { changedByHand } from '../../../recipe/changed-by-hand.js';
import {
  fileFromRecipe,
  nameFromTitle,
  planProblems,
  type Recipe,
  readRecipe,
} from '../../../recipe/index.js';
import { loadPlanner, type RecipeConditions } from '../../../recipe/planner/index.js';
import { changesBetween } from '../../../recipe/recipe-changes.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { usualRecipe } from '../../../recipe/usual-recipe.js';
import { recipeAccount } from '../../recipe-account.js';
import { UsageError } from '../../usage-error.js';
import type { Kind } from '../kind.js';
import { askRecipe } from './recipe-questions.js';
import { setInRecipe } from './recipe-settings.js';

/** Recipes, as the board would carry them out under `conditions`. */
export function recipeKind(conditions: RecipeConditions, filters: FilterTable): Kind<Recipe> {
  const refuseFault = (recipe: Recipe) => {
    const [fault] = planProblems(recipe, conditions);
    if (fault !== undefined) throw new UnreadableText(fault.message);
  };
  return {
    usual: usualRecipe,
    read: (bytes) => readRecipe(bytes, conditions),
    file: fileFromRecipe,
    questions: (before) => askRecipe(before, refuseFault),
    set: setInRecipe,
    complete: (recipe) => complete(recipe, conditions),
    account: (recipe) => account(recipe, conditions, filters),
    changes: changesBetween,
    revise: (before, after) => changedByHand(before, after, new Date()),
    called: ({ name, version }) => `'${name}' version ${version}`,
    fileName: ({ name }) => name,
  };
}

function complete(recipe: Recipe, conditions: RecipeConditions): Recipe {
  if (recipe.title === '') throw new UsageError('a new recipe needs a title: add --set title=Slipway');
  const named = { ...recipe, name: recipe.name === '' ? nameFromTitle(recipe.title) : recipe.name };
  if (named.name === '')
    throw new UsageError(`no name can be made of '${recipe.title}'; add --set name=slipway`);
  const problems = planProblems(named, conditions).map(({ path: [list, pass], message }) => {
    const label = list === 'passes' && typeof pass === 'number' ? named.passes[pass]?.label : undefined;
    return label === undefined ? message : `'${label}': ${message}`;
  });
  if (problems.length > 0) throw new UsageError(`this recipe cannot be printed:\n${problems.join('\n')}`);
  return named;
}

function account(recipe: Recipe, conditions: RecipeConditions, filters: FilterTable) {
  const planner = loadPlanner();
  const plan = planner.planRecipe(recipe, conditions);
  const advice = [...recipeAdvice(planner, plan), ...filterAdvice(planner, filters, plan)];
  return {
    words: recipeAccount(recipe, plan, advice),
    data: { recipe: fileFromRecipe(recipe), plan, advice },
  };
}
