import type { Command } from 'commander';
import { filterWords } from '../../daylight/revise/account-words.js';
import { refilterRecipe } from '../../daylight/revise/revise.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import { archiveOption, examples, filtersOption, forceOption, jsonOption, outputOption } from '../options.js';
import { developerOption, filtersInUse, type PaperInUseOptions, paperOption } from '../paper-in-use.js';
import { readCount } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { cleanText } from '../terminal/clean-text.js';

interface FilterOptions extends NewVersionOptions, PaperInUseOptions {
  readonly pass: string;
  readonly to: string;
  readonly filters?: string;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .requiredOption('--to <filter>', 'the new filter')
    .option('--pass <number>', 'number of the pass', '1')
    .addOption(filtersOption())
    .addOption(paperOption())
    .addOption(developerOption())
    .addOption(archiveOption())
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle filter boathouse.json --pass 1 --to 4 -o boathouse-hard.json'))
    .action(filter);
}

async function filter(path: string, options: FilterOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  const pass = readCount('--pass', options.pass, 1, recipe.passes.length);
  const table = await filtersInUse(options, recipe.paper);
  const { recipe: changed, account } = refilterRecipe(
    loadPlanner(),
    table,
    recipe,
    pass - 1,
    options.to,
    new Date(),
  );
  const words = filterWords(pass, recipe.passes[pass - 1]!, account).join('\n');
  await tellNewVersion(changed, { words: cleanText(words, 'lines'), data: account }, options);
}
