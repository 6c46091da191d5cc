import type { Command } from 'commander';
import type { FilterTable } from '../../daylight/filters/filter-table.js';
import { revised } from '../../daylight/revise/history.js';
import { type Recipe, writeRecipe } from '../../recipe/index.js';
import type { RecipeConditions } from '../../recipe/planner/index.js';
import { changesBetween } from '../../recipe/recipe-changes.js';
import { examples, filtersOption, forceOption, lagOption, outputOption, riseOption } from '../options.js';
import { agree } from '../questions/agreeing.js';
import { answersAtTheTerminal } from '../questions/at-a-terminal.js';
import { conduct } from '../questions/conduct.js';
import { answersInFile } from '../questions/in-a-file.js';
import type { Interview } from '../questions/question.js';
import { askRecipe } from '../questions/recipe-questions.js';
import { readLamp } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { filtersFrom } from '../read-tables.js';
import { accountOf } from '../recipe-account.js';
import { remark } from '../terminal/print.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface ChangeOptions {
  readonly answers?: string;
  readonly output?: string;
  readonly force?: true;
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .option(
      '--answers <file>',
      'take the answers from a file, one a line, instead of asking; - for standard input',
    )
    .addOption(outputOption('file for the new version; by default the recipe’s own'))
    .addOption(forceOption())
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(filtersOption())
    .addHelpText('after', examples('treadle change boathouse.json'))
    .action(change);
}

async function change(path: string, options: ChangeOptions): Promise<void> {
  const { output, force } = options;
  if (output !== undefined) await checkNewFile(output, force === true);
  const conditions = { lamp: readLamp(options) };
  const filters = await filtersFrom(options.filters);
  const before = await readRecipeFile(path, conditions);
  const answers =
    options.answers === undefined ? answersAtTheTerminal() : await answersInFile(options.answers);
  const target = output ?? path;
  const recipe = await conduct(() => changed(before, target, conditions, filters), answers);
  if (recipe === undefined) return remark('Nothing was changed, and nothing written.');
  await writeNewFile(target, writeRecipe(recipe), output === undefined || force === true);
  remark(`'${recipe.name}' version ${recipe.version} is in ${target}.`);
}

function* changed(
  before: Recipe,
  path: string,
  conditions: RecipeConditions,
  filters: FilterTable,
): Interview<Recipe | undefined> {
  const after = yield* askRecipe(before, conditions);
  const changes = changesBetween(before, after);
  if (changes.length === 0) return undefined;
  const recipe = revised(before, after, changes, new Date());
  yield* agree([accountOf(recipe, conditions, filters), ...changes].join('\n'), path);
  return recipe;
}
