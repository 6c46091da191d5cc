import type { Command } from 'commander';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, portOption, traceOption } from '../options.js';
import { readRecipeName } from '../read-options.js';
import { cleanText } from '../terminal/clean-text.js';
import { remark } from '../terminal/print.js';

export function define(command: Command): void {
  command
    .argument('<name>', 'name of the recipe, as treadle recipes shows it')
    .addOption(portOption())
    .addOption(traceOption())
    .addHelpText('after', examples('treadle remove boathouse'))
    .action(removeRecipe);
}

async function removeRecipe(words: string, options: BoardOptions): Promise<void> {
  const name = readRecipeName('<name>', words);
  await withBoard(options, async (board) => {
    await board.removeRecipe(name);
    remark(cleanText(`'${name}' was removed from board ${board.id}.`));
  });
}
