import { type Command, Option } from 'commander';
import type { Board, RecipeLine } from '../../board/link/board.js';
import { seconds } from '../../figures.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { type ListedVersion, listedVersions } from '../../records/archive/recipe-versions.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { archiveNamed, examples, jsonOption, portOption, traceOption } from '../options.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface RecipesOptions extends BoardOptions {
  readonly archive?: string | true;
  readonly negative?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(
      new Option(
        '--archive [file]',
        'every version that was sent, saved or collected, from the archive, instead of the board',
      ),
    )
    .option('--negative <words>', 'with --archive: only recipes whose negative has these words')
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle recipes', 'treadle recipes --archive --negative 07/12'))
    .action((options: RecipesOptions) =>
      options.archive === undefined && options.negative === undefined
        ? withBoard(options, (board) => onBoard(board, options))
        : inArchive(options),
    );
}

async function onBoard(board: Board, options: RecipesOptions): Promise<void> {
  const lines = await board.listRecipes();
  if (options.json) printJson(lines.map(({ type: _type, id: _id, ...recipe }) => recipe));
  else print(lines.length === 0 ? 'There is no recipe on the board.' : recipeTable(lines));
}

function recipeTable(lines: readonly RecipeLine[]): string {
  return table(
    [
      { head: 'name' },
      { head: 'version', align: 'right' },
      { head: 'title' },
      { head: 'passes', align: 'right' },
      { head: 'base', align: 'right' },
    ],
    lines.map(({ name, version, title, passes, baseMs, intact }) =>
      intact
        ? [name, `${version}`, title, `${passes}`, seconds(baseMs)]
        : [name, '', 'damaged on the board: send it again, or remove it', '', ''],
    ),
  );
}

async function inArchive({ archive: file, negative, json }: RecipesOptions): Promise<void> {
  await using archive = await readArchive(archiveNamed(file));
  const found = listedVersions(await archive.recipes(), await archive.remarks(), negative ?? '');
  if (json) printJson(found);
  else print(found.length === 0 ? 'The archive has no such recipe.' : archiveTable(found));
}

function archiveTable(found: readonly ListedVersion[]): string {
  return table(
    [
      { head: 'name' },
      { head: 'version', align: 'right' },
      { head: 'negative' },
      { head: 'base', align: 'right' },
      { head: 'kept' },
      { head: 'rating', align: 'right' },
      { head: 'remark' },
    ],
    found.map(({ recipe, remarks, keptMs }) => {
      const last = remarks.at(-1);
      const { name, version, negative, baseMs } = recipe;
      const kept = new Date(keptMs).toISOString().slice(0, 10);
      return [
        name,
        `${version}`,
        negative,
        seconds(baseMs),
        kept,
        `${last?.rating ?? ''}`,
        last?.words ?? '',
      ];
    }),
  );
}
