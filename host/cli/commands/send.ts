import type { Command } from 'commander';
import { openArchive } from '../../records/archive/file-archive.js';
import { sendRecipe } from '../../records/recipes/send-recipe.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { archiveOption, asNextOption, examples, portOption, traceOption } from '../options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { tellSent } from '../tell-sent.js';
import { progress } from '../terminal/progress.js';
import { writeVersionInFile } from '../version-in-file.js';

interface SendOptions extends BoardOptions {
  readonly archive?: string;
  readonly asNext?: true;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .addOption(asNextOption())
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(archiveOption())
    .addHelpText('after', examples('treadle send boathouse.json', 'treadle send boathouse-1.json --as-next'))
    .action(sendFile);
}

/** The file is read and checked, and the archive found to be there, before the board is disturbed. */
async function sendFile(path: string, options: SendOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  await using archive = await openArchive(options.archive);
  const sent = await withBoardThroughLosses(options, async (board) => {
    const bar = progress('lines');
    try {
      const asNext = options.asNext === true;
      const done = await sendRecipe(archive, board, recipe, { asNext, onProgress: bar.to });
      return { ...done, boardId: board.id };
    } finally {
      bar.stop();
    }
  });
  tellSent(sent, sent.boardId);
  if (sent.recipe.version !== recipe.version) await writeVersionInFile(path, sent.recipe);
}
