import type { Command } from 'commander';
import type { Board, RecipeLine } from '../../link/board.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, jsonOption, portOption } from '../options.js';
import { seconds } from '../terminal/figures.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';

interface RecipesOptions extends BoardOptions {
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .addOption(portOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle recipes'))
    .action((options: RecipesOptions) => withBoard(options, (board) => recipes(board, options)));
}

async function recipes(board: Board, options: RecipesOptions): Promise<void> {
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
    lines.map(({ name, version, title, passes, baseMs }) => [
      name,
      `${version}`,
      title,
      `${passes}`,
      seconds(baseMs),
    ]),
  );
}
