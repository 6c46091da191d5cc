import type { Command } from 'commander';
import { recipeAdvice } from '../../daylight/advice.js';
import { filterAdvice } from '../../daylight/filters/filter-advice.js';
import type { FilterTable } from '../../daylight/filters/filter-table.js';
import { counted, seconds } from '../../figures.js';
import { problemText, type Recipe, RecipeError, type RecipeProblem, readRecipe } from '../../recipe/index.js';
import { loadPlanner, type RecipeConditions } from '../../recipe/planner/index.js';
import { ExitCode } from '../exit-code.js';
import { archiveOption, examples, filtersOption, jsonOption, lagOption, riseOption } from '../options.js';
import { developerOption, filtersInUse, type PaperInUseOptions, paperOption } from '../paper-in-use.js';
import { readLamp } from '../read-options.js';
import { nameOf, ownBytes } from '../read-own-file.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS } from '../read-recipe-file.js';
import { adviceLines } from '../terminal/advice-lines.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson } from '../terminal/print.js';

interface CheckOptions extends PaperInUseOptions {
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
  readonly json?: true;
}

type Found =
  | { readonly recipe: Recipe; readonly problems: readonly [] }
  | { readonly recipe?: never; readonly problems: readonly RecipeProblem[] };

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(filtersOption())
    .addOption(paperOption())
    .addOption(developerOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle check boathouse.json'))
    .action(check);
}

async function check(path: string, options: CheckOptions): Promise<void> {
  const conditions = { lamp: readLamp(options) };
  const found = problemsIn(await ownBytes(path, RECIPE_ARGUMENT), conditions);
  const advice = found.recipe
    ? adviceOn(found.recipe, conditions, await filtersInUse(options, found.recipe.paper))
    : [];
  if (options.json) printJson({ ok: found.recipe !== undefined, problems: found.problems, advice });
  else
    print(
      cleanText(
        found.recipe
          ? [allIsWell(nameOf(path), found.recipe), ...adviceLines(advice)].join('\n')
          : whatIsWrong(nameOf(path), found.problems),
        'lines',
      ),
    );
  if (!found.recipe) process.exitCode = ExitCode.wrongUse;
}

function adviceOn(recipe: Recipe, conditions: RecipeConditions, filters: FilterTable) {
  const planner = loadPlanner();
  const plan = planner.planRecipe(recipe, conditions);
  return [...recipeAdvice(planner, plan), ...filterAdvice(planner, filters, plan)];
}

function problemsIn(bytes: Uint8Array, conditions: RecipeConditions): Found {
  try {
    return { recipe: readRecipe(bytes, conditions), problems: [] };
  } catch (error) {
    if (!(error instanceof RecipeError)) throw error;
    return { problems: error.problems };
  }
}

function allIsWell(path: string, { name, baseMs, passes }: Recipe): string {
  const dodges = passes.reduce((sum, pass) => sum + pass.dodges.length, 0);
  return `no mistakes in ${path}: '${name}', base ${seconds(baseMs)}, ${counted(passes.length, 'pass', 'passes')}, ${counted(dodges, 'dodge')}`;
}

function whatIsWrong(path: string, problems: readonly RecipeProblem[]): string {
  return [
    `${path}: ${counted(problems.length, 'mistake')}`,
    ...problems.map((one) => `  ${problemText(one)}`),
  ].join('\n');
}
