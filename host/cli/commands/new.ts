import { Argument, type Command } from 'commander';
import { NOTES_EXAMPLE } from '../../recipe/old-notes.js';
import { examples } from '../options.js';
import { bathsKind } from '../questions/baths/baths-kind.js';
import { isAsking, type MakingOptions, makeNew } from '../questions/making.js';
import { addMakingOptions } from '../questions/options.js';
import { recipeFromNotes } from '../questions/recipe/from-notes.js';
import { rememberRecipe, usualAsLast } from '../questions/recipe/last-recipe.js';
import { recipeKind } from '../questions/recipe/recipe-kind.js';
import { stripKind } from '../questions/strip/strip-kind.js';
import { readLamp } from '../read-options.js';
import { filtersFrom } from '../read-tables.js';
import { UsageError } from '../usage-error.js';

const kinds = ['recipe', 'strip', 'baths'] as const;
type KindName = (typeof kinds)[number];

interface NewOptions extends MakingOptions {
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
  readonly from?: string;
}

export function define(command: Command): void {
  command
    .addArgument(new Argument('[kind]', 'what to make').choices(kinds).default('recipe'))
    .option('--from <notes>', `start from old notes in seconds, such as '${NOTES_EXAMPLE}'`);
  addMakingOptions(
    command,
    'file to write; by default it is asked for, or named after the title',
    'give one answer, such as title=Slipway',
  )
    .addHelpText(
      'after',
      examples(
        'treadle new',
        `treadle new --from '${NOTES_EXAMPLE}'`,
        'treadle new --set title=Slipway --set base=12.5s --output slipway.json',
        'treadle new strip --set first=5s --set step=1/2 --set filter=2',
        'treadle new baths',
      ),
    )
    .action(newFile);
}

async function newFile(name: KindName, options: NewOptions): Promise<void> {
  if (options.from !== undefined && name !== 'recipe')
    throw new UsageError(`--from makes a recipe; leave out '${name}'`);
  if (name === 'recipe') await newRecipe(options);
  else if (name === 'strip') await makeNew(stripKind(readLamp(options)), options);
  else await makeNew(bathsKind, options);
}

async function newRecipe(options: NewOptions): Promise<void> {
  const kind = recipeKind({ lamp: readLamp(options) }, await filtersFrom(options.filters));
  const start =
    options.from === undefined
      ? isAsking(options) && (await usualAsLast())
      : recipeFromNotes('--from', options.from);
  const recipe = await (start ? makeNew(kind, options, start.recipe, start.words) : makeNew(kind, options));
  if (isAsking(options)) await rememberRecipe(recipe);
}
