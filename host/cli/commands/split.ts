import type { Command } from 'commander';
import { type FilterTable, filterEntry } from '../../daylight/filters/filter-table.js';
import type { SplitStrip } from '../../daylight/filters/split-grade.js';
import { splitWords } from '../../daylight/revise/account-words.js';
import { splitRecipe } from '../../daylight/revise/split-recipe.js';
import { readExposure } from '../../recipe/index.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import { archiveOption, examples, filtersOption, forceOption, jsonOption, outputOption } from '../options.js';
import { developerOption, filtersInUse, type PaperInUseOptions, paperOption } from '../paper-in-use.js';
import { readOption } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { cleanText } from '../terminal/clean-text.js';
import { UsageError } from '../usage-error.js';

interface SplitOptions extends NewVersionOptions, PaperInUseOptions {
  readonly soft: string;
  readonly hard: string;
  readonly filters?: string;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .requiredOption(
      '--soft <filter:time>',
      'soft filter, and the exposure that prints the highlights right through it',
    )
    .requiredOption(
      '--hard <filter:time>',
      'hard filter, and the exposure that prints the shadows right on top of it',
    )
    .addOption(filtersOption())
    .addOption(paperOption())
    .addOption(developerOption())
    .addOption(archiveOption())
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples('treadle split boathouse.json --soft 00:8s --hard 5:12s -o boathouse-split.json'),
    )
    .action(split);
}

async function split(path: string, options: SplitOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  const table = await filtersInUse(options, recipe.paper);
  const strips = {
    soft: lightOf('--soft', options.soft, table),
    hard: lightOf('--hard', options.hard, table),
  };
  const { recipe: changed, account } = splitRecipe(loadPlanner(), recipe, strips, new Date());
  const words = [...splitWords(account), ...rangesOf(table, [strips.soft.filter, strips.hard.filter])].map(
    (line) => cleanText(line, 'lines'),
  );
  await tellNewVersion(changed, { words: words.join('\n'), data: account }, options);
}

/** How hard each prints on this paper, where it was measured. */
function rangesOf(table: FilterTable, filters: readonly string[]): string[] {
  const { rangeSource } = table;
  if (rangeSource === undefined) return [];
  return filters.map(
    (filter) => `filter ${filter}: R${filterEntry(table, filter).rangeR}, ${rangeSource(filter)}`,
  );
}

/** The filter has to be one that the table has, as everywhere: a slip of the finger would be printed through. */
function lightOf(option: string, text: string, table: FilterTable): SplitStrip {
  const [filter, time, ...more] = text.split(':');
  if (!filter || !time || more.length > 0)
    throw new UsageError(`${option}: '${text}' is not filter:time, such as 00:8s`);
  const { filter: named, rangeR } = filterEntry(table, filter);
  return { filter: named, rangeR, doseMs: readOption(option, time, readExposure) };
}
