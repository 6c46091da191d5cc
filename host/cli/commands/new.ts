import { existsSync } from 'node:fs';
import type { Command } from 'commander';
import type { FilterTable } from '../../daylight/filters/filter-table.js';
import { type Recipe, writeRecipe } from '../../recipe/index.js';
import type { RecipeConditions } from '../../recipe/planner/index.js';
import { examples, filtersOption, forceOption, lagOption, outputOption, riseOption } from '../options.js';
import { agree, fileQuestion } from '../questions/agreeing.js';
import { answersAtTheTerminal } from '../questions/at-a-terminal.js';
import { conduct } from '../questions/conduct.js';
import { answersInFile } from '../questions/in-a-file.js';
import { ask, type Interview } from '../questions/question.js';
import { askRecipe, usualRecipe } from '../questions/recipe-questions.js';
import { readLamp } from '../read-options.js';
import { filtersFrom } from '../read-tables.js';
import { accountOf } from '../recipe-account.js';
import { remark } from '../terminal/print.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface NewOptions {
  readonly answers?: string;
  readonly output?: string;
  readonly force?: true;
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
}

export function define(command: Command): void {
  command
    .option(
      '--answers <file>',
      'take the answers from a file, one a line, instead of asking; - for standard input',
    )
    .addOption(outputOption('file to write; by default asked for'))
    .addOption(forceOption())
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(filtersOption())
    .addHelpText('after', examples('treadle new', 'treadle new --answers slipway.txt --output slipway.json'))
    .action(makeNew);
}

async function makeNew(options: NewOptions): Promise<void> {
  const { output, force } = options;
  if (output !== undefined) await checkNewFile(output, force === true);
  const conditions = { lamp: readLamp(options) };
  const filters = await filtersFrom(options.filters);
  const answers =
    options.answers === undefined ? answersAtTheTerminal() : await answersInFile(options.answers);
  const { recipe, path } = await conduct(() => newRecipe(usualRecipe, output, conditions, filters), answers);
  await writeNewFile(path, writeRecipe(recipe), force === true && path === output);
  remark(`'${recipe.name}' version ${recipe.version} is in ${path}.`);
}

function* newRecipe(
  usual: Recipe,
  output: string | undefined,
  conditions: RecipeConditions,
  filters: FilterTable,
): Interview<{ recipe: Recipe; path: string }> {
  const recipe = yield* askRecipe(usual, conditions);
  const path = output ?? (yield* ask(fileQuestion(freeName(recipe.name))));
  yield* agree(accountOf(recipe, conditions, filters), path);
  return { recipe, path };
}

/** 'slipway.json', or 'slipway2.json' where that is there: letters, digits and a point. */
function freeName(name: string): string {
  for (let number = 1; ; number++) {
    const path = `${name}${number === 1 ? '' : number}.json`;
    if (!existsSync(path)) return path;
  }
}
