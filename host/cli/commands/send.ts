import type { Command } from 'commander';
import { toBoardRecipe } from '../../recipe/index.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { archiveOption, examples, portOption, traceOption } from '../options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { remark } from '../terminal/print.js';
import { progress } from '../terminal/progress.js';

interface SendOptions extends BoardOptions {
  readonly archive?: string;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(archiveOption())
    .addHelpText('after', examples('treadle send boathouse.json'))
    .action(sendFile);
}

/** The file is read and checked, and the archive found to be there, before the board is disturbed. */
async function sendFile(path: string, options: SendOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  await using archive = await openArchive(options.archive);
  await withBoardThroughLosses(options, async (board) => {
    const bar = progress('lines');
    try {
      await board.sendRecipe(toBoardRecipe(recipe), { onProgress: bar.to });
    } finally {
      bar.stop();
    }
    await archive.keepRecipe(recipe, board.id);
    remark(`'${recipe.name}' version ${recipe.version} is on board ${board.id}.`);
  });
}
