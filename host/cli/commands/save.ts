import type { Command } from 'commander';
import { writeRecipe } from '../../recipe/index.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, portOption } from '../options.js';
import { remark } from '../terminal/print.js';
import { writeNewFile } from '../write-new-file.js';

interface SaveOptions extends BoardOptions {
  readonly output?: string;
  readonly force?: true;
}

export function define(command: Command): void {
  command
    .argument('<name>', 'as `treadle recipes` shows it')
    .addOption(portOption())
    .option('-o, --output <file>', 'where to write it; left out, it is printed')
    .option('--force', 'write over a file that is there')
    .addHelpText('after', examples('treadle save boathouse --output boathouse-2.json'))
    .action(getRecipe);
}

async function getRecipe(name: string, options: SaveOptions): Promise<void> {
  const kept = await withBoard(options, (board) => board.getRecipe(name));
  const text = writeRecipe({ ...kept, columnHeightMm: 0, focalLengthMm: 0, notes: '', history: [] });
  if (options.output === undefined) process.stdout.write(text);
  else {
    await writeNewFile(options.output, text, options.force === true);
    remark(`'${kept.name}' version ${kept.version} is in ${options.output}.`);
  }
}
