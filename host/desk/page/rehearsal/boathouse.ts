import boathouse from '../../../evening/boathouse.json' with { type: 'json' };
import { type Recipe, readRecipe } from '../../../recipe/index.js';
import { loadPlanner, type RecipePlan } from '../../../recipe/planner/index.js';

/** A print, and its times from the same core that will carry it out. */
export interface RehearsedPrint {
  readonly recipe: Recipe;
  readonly plan: RecipePlan;
}

/** What lies on the desk until something else does. Asked for once the core is there. */
export function boathousePrint(): RehearsedPrint {
  const recipe = readRecipe(JSON.stringify(boathouse));
  return { recipe, plan: loadPlanner().planRecipe(recipe) };
}
