import type { Command } from 'commander';
import { recipeAdvice } from '../../daylight/advice.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { examples, jsonOption, lagOption, riseOption } from '../options.js';
import { readLamp } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { recipeAccount } from '../recipe-account.js';
import { print, printJson } from '../terminal/print.js';

interface TimelineOptions {
  readonly lag: string;
  readonly rise: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples('treadle timeline boathouse.json', 'treadle timeline boathouse.json --lag 120ms --rise 90ms'),
    )
    .action(timeline);
}

async function timeline(path: string, options: TimelineOptions): Promise<void> {
  const conditions = { lamp: readLamp(options) };
  const recipe = await readRecipeFile(path, conditions);
  const planner = loadPlanner();
  const plan = planner.planRecipe(recipe, conditions);
  const advice = recipeAdvice(planner, plan);
  if (options.json) printJson({ recipe: recipe.name, title: recipe.title, ...plan, advice });
  else print(recipeAccount(recipe, plan, advice));
}
