import type { Command } from 'commander';
import { fromBoardRecipe, writeRecipe } from '../../recipe/index.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, forceOption, outputOption, portOption, traceOption } from '../options.js';
import { readRecipeName } from '../read-options.js';
import { remark } from '../terminal/print.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface SaveOptions extends BoardOptions {
  readonly output?: string;
  readonly force?: true;
}

export function define(command: Command): void {
  command
    .argument('<name>', 'name of the recipe, as treadle recipes shows it')
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(outputOption('file to write; by default the recipe is printed'))
    .addOption(forceOption())
    .addHelpText('after', examples('treadle save boathouse --output boathouse-2.json'))
    .action(saveRecipe);
}

async function saveRecipe(words: string, options: SaveOptions): Promise<void> {
  const name = readRecipeName('<name>', words);
  if (options.output !== undefined) await checkNewFile(options.output, options.force === true);
  const kept = await withBoard(options, (board) => board.getRecipe(name));
  const text = writeRecipe(fromBoardRecipe(kept));
  if (options.output === undefined) process.stdout.write(text);
  else {
    await writeNewFile(options.output, text, options.force === true);
    remark(`'${kept.name}' version ${kept.version} is in ${options.output}.`);
  }
}
