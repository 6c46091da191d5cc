import type { Command } from 'commander';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, portOption } from '../options.js';
import { readRecipeFile } from '../read-recipe-file.js';
import { remark } from '../terminal/print.js';
import { progress } from '../terminal/progress.js';

export function define(command: Command): void {
  command
    .argument('<recipe>', "the recipe's file")
    .addOption(portOption())
    .addHelpText('after', examples('treadle push boathouse.json'))
    .action(push);
}

/** The file is read and checked before the board is disturbed. */
async function push(path: string, options: BoardOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  await withBoard(options, async (board) => {
    const bar = progress('lines');
    try {
      await board.pushRecipe(recipe, { onProgress: bar.to });
    } finally {
      bar.stop();
    }
    remark(`'${recipe.name}' version ${recipe.version} is on board ${board.id}.`);
  });
}
