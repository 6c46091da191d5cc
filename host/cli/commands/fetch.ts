import { writeFile } from 'node:fs/promises';
import type { Command } from 'commander';
import { writeRecipe } from '../../recipe/index.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { UsageError } from '../exit-code.js';
import { examples, portOption } from '../options.js';
import { remark } from '../terminal/print.js';

interface FetchOptions extends BoardOptions {
  readonly output?: string;
  readonly force?: true;
}

export function define(command: Command): void {
  command
    .argument('<name>', 'as `treadle recipes` shows it')
    .addOption(portOption())
    .option('-o, --output <file>', 'where to write it; left out, it is printed')
    .option('--force', 'write over a file that is there')
    .addHelpText('after', examples('treadle fetch boathouse --output boathouse-2.json'))
    .action(fetchRecipe);
}

async function fetchRecipe(name: string, options: FetchOptions): Promise<void> {
  const kept = await withBoard(options, (board) => board.fetchRecipe(name));
  const text = writeRecipe({ ...kept, columnHeightMm: 0, focalLengthMm: 0, notes: '', history: [] });
  if (options.output === undefined) process.stdout.write(text);
  else {
    await writeNew(options.output, text, options.force === true);
    remark(`'${kept.name}' version ${kept.version} is in ${options.output}.`);
  }
}

async function writeNew(path: string, text: string, over: boolean): Promise<void> {
  try {
    await writeFile(path, text, { flag: over ? 'w' : 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    throw new UsageError(`${path} is there already: name another file, or add --force to write over it`);
  }
}
