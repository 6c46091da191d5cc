import type { Command } from 'commander';
import { STANDARD_INPUT } from '../../files/read-file.js';
import { readJson } from '../../recipe/reading/json-text.js';
import { examples } from '../options.js';
import { filtersInUse } from '../paper-in-use.js';
import { bathsKind } from '../questions/baths/baths-kind.js';
import { type MakingOptions, makeChange } from '../questions/making.js';
import { addMakingOptions } from '../questions/options.js';
import { recipeKind } from '../questions/recipe/recipe-kind.js';
import { stripKind } from '../questions/strip/strip-kind.js';
import { readLamp } from '../read-options.js';
import { ownBytes } from '../read-own-file.js';
import { RECIPE_ARGUMENT } from '../read-recipe-file.js';
import { UsageError } from '../usage-error.js';

interface ChangeOptions extends MakingOptions {
  readonly lag: string;
  readonly rise: string;
  readonly filters?: string;
}

const SETTABLE = `
--set takes the fields of the file, an area by its name (sky, face), and its filter (sky.filter). Areas of one name
go by the number of their pass (3, 3.filter). 'none' leaves a field empty, and takes an area out.`;

export function define(command: Command): void {
  addMakingOptions(
    command.argument(
      RECIPE_ARGUMENT,
      'recipe file, or a strip\u2019s or baths\u2019; - for standard input, with --output',
    ),
    'file for the changed one; by default its own',
    'change one thing, such as sky=+1/2',
  )
    .addHelpText('after', SETTABLE)
    .addHelpText(
      'after',
      examples(
        'treadle change boathouse.json',
        'treadle change boathouse.json --set sky=+1/2 --set base=14s',
        'treadle change boathouse.json --set sky.filter=00 --output boathouse-2.json',
        'treadle change baths.json --set developer.resinCoated=2m',
      ),
    )
    .action(change);
}

async function change(path: string, options: ChangeOptions): Promise<void> {
  if (path === STANDARD_INPUT && options.output === undefined)
    throw new UsageError('standard input cannot be changed in its place; name a file with --output');
  const bytes = await ownBytes(path, RECIPE_ARGUMENT);
  const kind = kindOf(bytes);
  if (kind === 'baths') return makeChange(bathsKind, path, bytes, options);
  const lamp = readLamp(options);
  if (kind === 'strip') return makeChange(stripKind(lamp), path, bytes, options);
  await makeChange(
    recipeKind({ lamp }, await filtersInUse(options, paperNamed(bytes))),
    path,
    bytes,
    options,
  );
}

/** Empty where the file says none, or is none: its reader says so. */
function paperNamed(bytes: Uint8Array): string {
  const json = readJson(bytes);
  const { paper } = 'locate' in json ? ((json.value ?? {}) as { readonly paper?: unknown }) : {};
  return typeof paper === 'string' ? paper : '';
}

/** What a file is, by the fields that only that kind has; what is none is told so by the reader of recipes. */
function kindOf(bytes: Uint8Array): 'recipe' | 'strip' | 'baths' {
  const json = readJson(bytes);
  const file = 'locate' in json && typeof json.value === 'object' && json.value !== null ? json.value : {};
  if ('baths' in file) return 'baths';
  return 'first' in file && !('base' in file) ? 'strip' : 'recipe';
}
