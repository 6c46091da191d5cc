import type { Command } from 'commander';
import { counted } from '../../figures.js';
import type { BoardRecipe } from '../../recipe/index.js';
import type { Archive } from '../../records/archive/archive.js';
import { type CollectReport, collectIntoArchive } from '../../records/archive/collect-log.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { collectRecipes } from '../../records/recipes/collect-recipes.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { numberRanges } from '../number-ranges.js';
import { archiveOption, examples, jsonOption, portOption, traceOption } from '../options.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson } from '../terminal/print.js';
import { progress } from '../terminal/progress.js';

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
  const { report, recipes } = await withBoardThroughLosses(
    options,
    async (board) => {
      const report = await collectWithBar(archive, board);
      return { report, recipes: await collectRecipes(archive, board) };
    },
    { acceptOtherVersion: true },
  );
  if (options.json) printJson({ ...report, recipes: recipes.map(named), archive: archive.file });
  else print([words(report, archive.file), ...recipeWords(recipes)].join('\n'));
}

async function collectWithBar(
  archive: Archive,
  board: Parameters<typeof collectIntoArchive>[1],
): Promise<CollectReport> {
  const bar = progress('entries');
  try {
    return await collectIntoArchive(archive, board, { onProgress: bar.to });
  } finally {
    bar.stop();
  }
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
