import type { Command } from 'commander';
import { STANDARD_INPUT } from '../../files/read-file.js';
import { examples } from '../options.js';
import { type MakingOptions, makeChange } from '../questions/making.js';
import { addMakingOptions } from '../questions/options.js';
import { recipeKind } from '../questions/recipe/recipe-kind.js';
import { readLamp } from '../read-options.js';
import { ownBytes } from '../read-own-file.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS } from '../read-recipe-file.js';
import { filtersFrom } from '../read-tables.js';
import { UsageError } from '../usage-error.js';

interface ChangeOptions extends MakingOptions {
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
}

export function define(command: Command): void {
  addMakingOptions(
    command.argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS),
    'file for the changed one; by default its own',
    'change one thing, such as sky=+1/2',
  )
    .addHelpText(
      'after',
      examples(
        'treadle change boathouse.json',
        'treadle change boathouse.json --set sky=+1/2 --set base=14s',
        'treadle change boathouse.json --set sky.filter=00 --output boathouse-2.json',
      ),
    )
    .action(change);
}

async function change(path: string, options: ChangeOptions): Promise<void> {
  if (path === STANDARD_INPUT && options.output === undefined)
    throw new UsageError('standard input cannot be changed in its place; name a file with --output');
  const kind = recipeKind({ lamp: readLamp(options) }, await filtersFrom(options.filters));
  await makeChange(kind, path, await ownBytes(path, RECIPE_ARGUMENT), options);
}
