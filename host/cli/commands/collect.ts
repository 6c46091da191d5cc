import type { Command } from 'commander';
import type { BoardRecipe } from '../../recipe/index.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { collectedWords } from '../../records/recipes/collect-everything.js';
import { collectAll } from '../board-log.js';
import type { BoardOptions } from '../board-session.js';
import { archiveOption, examples, jsonOption, portOption, traceOption } from '../options.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson } from '../terminal/print.js';

interface CollectOptions extends BoardOptions {
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle collect', 'treadle collect --archive prints.sqlite'))
    .action(collectLog);
}

/** The archive is opened first: a board is not asked for what could not be kept. Any version's log can be kept. */
async function collectLog(options: CollectOptions): Promise<void> {
  await using archive = await openArchive(options.archive);
  const { report, recipes } = await collectAll(archive, options);
  if (options.json) printJson({ ...report, recipes: recipes.map(named), archive: archive.file });
  else print(cleanText(collectedWords({ report, recipes }, archive.file), 'lines'));
}

function named({ name, version }: BoardRecipe): { name: string; version: number } {
  return { name, version };
}
