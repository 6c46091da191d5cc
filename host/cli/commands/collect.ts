import type { Command } from 'commander';
import { counted } from '../../figures.js';
import type { BoardRecipe } from '../../recipe/index.js';
import type { CollectReport } from '../../records/archive/collect-log.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { collectAll } from '../board-log.js';
import type { BoardOptions } from '../board-session.js';
import { numberRanges } from '../number-ranges.js';
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
  else print([words(report, archive.file), ...recipeWords(recipes)].join('\n'));
}

function words({ board, added, known, holes, forgottenUptoSeq }: CollectReport, file: string): string {
  const lines = [`${counted(added, 'new record')} of board ${board} in ${file}.`];
  if (known > 0) lines.push(`${counted(known, 'record')} came that the archive had already.`);
  if (holes.length > 0)
    lines.push(`The board has no record for ${counted(holes.length, 'number')}: ${numberRanges(holes)}.`);
  if (added > 0 && forgottenUptoSeq === undefined)
    lines.push('The board is busy and keeps them too, until the next time you collect.');
  return lines.join('\n');
}

function named({ name, version }: BoardRecipe): { name: string; version: number } {
  return { name, version };
}

function recipeWords(recipes: readonly BoardRecipe[]): string[] {
  if (recipes.length === 0) return [];
  const names = recipes.map(({ name, version }) => `'${name}' version ${version}`).join(', ');
  return [cleanText(`Recipes as the board has them, which the archive had not: ${names}.`)];
}
