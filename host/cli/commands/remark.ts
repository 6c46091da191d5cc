import type { Command } from 'commander';
import { contentAtSheet } from '../../records/again/recipe-as-printed.js';
import { isSheetName, sheetNamed } from '../../records/again/sheet-name.js';
import type { Archive, KeptRecipe, Remark } from '../../records/archive/archive.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { contentAt } from '../../records/recipes/content-at.js';
import { archiveOption, examples } from '../options.js';
import { readCount } from '../read-options.js';
import { cleanText } from '../terminal/clean-text.js';
import { remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';

interface NoteOptions {
  readonly archive?: string;
  readonly rating?: string;
  readonly of?: string;
}

const MOST_LETTERS = 500;
const MOST_VERSIONS = 65_535;
const BEST = 5;
/** Then the remark is about what was sent last. */
const NOT_PRINTED = { board: '', atMs: null };

export function define(command: Command): void {
  command
    .argument(
      '<print>',
      "a sheet as 'treadle nights' shows it (2027-03-05/7, or 7 of the latest night, or last), or the name of a recipe",
    )
    .argument('[words...]', 'what you think of the dry print')
    .option('--rating <number>', 'from 1, waste, to 5, this is the print')
    .option('--of <version>', 'the version of a recipe; left out, the latest one')
    .addOption(archiveOption())
    .addHelpText(
      'after',
      examples(
        'treadle remark 2027-03-05/7 --rating 4 "sky a sixth less"',
        'treadle remark boathouse --of 2 "for the wall"',
      ),
    )
    .action(addRemark);
}

async function addRemark(name: string, words: readonly string[], options: NoteOptions): Promise<void> {
  const rating = options.rating === undefined ? null : readCount('--rating', options.rating, 1, BEST);
  const text = words.join(' ').trim();
  if (text === '' && rating === null) throw new UsageError('give --rating, or some words, or both');
  if (text.length > MOST_LETTERS)
    throw new UsageError(`the remark has ${text.length} letters, ${MOST_LETTERS} are allowed`);
  await using archive = await openArchive(options.archive);
  const { words: about, ...print } = await printNamed(archive, name, options.of);
  await archive.addRemark({ ...print, rating, words: cleanText(text) });
  remark(`Noted for ${about}.`);
}

/** What a remark is about, and how that is told. */
type About = Pick<Remark, 'name' | 'version' | 'content' | 'sheet'> & { readonly words: string };

async function printNamed(archive: Archive, name: string, of: string | undefined): Promise<About> {
  const kept = await archive.recipes(name);
  if (!isSheetName(name) || of !== undefined) return await recipeNamed(archive, name, kept, of);
  if (kept.length > 0)
    throw new UsageError(
      `'${cleanText(name)}' is a recipe and may be a sheet: for the recipe add --of VERSION, for the sheet write last/${name}`,
    );
  return await sheetOf(archive, name);
}

async function sheetOf(archive: Archive, name: string): Promise<About> {
  const { sheet: number, night, recipe, version, ...sheet } = await sheetNamed(archive, name);
  const content = contentAtSheet({ ...sheet, version }, await archive.recipes(recipe))?.content ?? null;
  const { board, log, boot, seq } = sheet;
  const by = recipe === '' ? '' : `, '${recipe}' version ${version}`;
  return {
    ...{ name: recipe, version, content, sheet: { board, log, boot, seq } },
    words: cleanText(`sheet ${number} of ${night ?? 'a night without a date'}${by}`),
  };
}

async function recipeNamed(
  archive: Archive,
  name: string,
  kept: readonly KeptRecipe[],
  of: string | undefined,
): Promise<About> {
  const versions = kept.map(({ recipe }) => recipe.version);
  if (versions.length === 0)
    throw new UsageError(
      `the archive has no recipe '${cleanText(name)}': 'treadle recipes --archive' lists them, and a sheet is written 2027-03-05/7`,
    );
  const version = of === undefined ? Math.max(...versions) : readCount('--of', of, 0, MOST_VERSIONS);
  if (!versions.includes(version))
    throw new UsageError(
      `--of: '${name}' has no version ${version}, but ${[...new Set(versions)].join(', ')}`,
    );
  const print = await archive.latestPrint(name, version);
  const content = contentAt(kept, version, print ?? NOT_PRINTED)?.content ?? null;
  return { name, version, content, sheet: null, words: `'${cleanText(name)}' version ${version}` };
}
