import type { Command } from 'commander';
import { NOTES_EXAMPLE } from '../../recipe/old-notes.js';
import { examples } from '../options.js';
import { type MakingOptions, makeNew } from '../questions/making.js';
import { addMakingOptions } from '../questions/options.js';
import { recipeFromNotes } from '../questions/recipe/from-notes.js';
import { recipeKind } from '../questions/recipe/recipe-kind.js';
import { readLamp } from '../read-options.js';
import { filtersFrom } from '../read-tables.js';

interface NewOptions extends MakingOptions {
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
  readonly from?: string;
}

export function define(command: Command): void {
  command.option('--from <notes>', `start from old notes in seconds, such as '${NOTES_EXAMPLE}'`);
  addMakingOptions(
    command,
    'file to write; by default it is asked for, or named after the title',
    'give one answer, such as title=Slipway',
  )
    .addHelpText(
      'after',
      examples('treadle new', 'treadle new --set title=Slipway --set base=12.5s --output slipway.json'),
    )
    .action(newFile);
}

async function newFile(options: NewOptions): Promise<void> {
  const kind = recipeKind({ lamp: readLamp(options) }, await filtersFrom(options.filters));
  if (options.from === undefined) return makeNew(kind, options);
  const { recipe, words } = recipeFromNotes('--from', options.from);
  await makeNew(kind, options, recipe, words);
}
