import type { Command } from 'commander';
import type { PrintedSheet } from '../../records/again/printed-sheet.js';
import { isSheetName, sheetNamed } from '../../records/again/sheet-name.js';
import { remarkFrom, remarkOnSheet, type Said } from '../../records/again/sheet-remark.js';
import type { Archive, KeptRecipe } from '../../records/archive/archive.js';
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
  if (rating === null && words.length === 0) throw new UsageError('give --rating, or some words, or both');
  const said = remarkFrom({ rating, words: words.join(' ') });
  await using archive = await openArchive(options.archive);
  const kept = await archive.recipes(name);
  const about =
    isSheetName(name) && options.of === undefined
      ? await ofSheet(archive, name, kept, said)
      : await ofRecipe(archive, name, kept, options.of, said);
  remark(`Noted for ${about}.`);
}

/** @returns what it is about, in words. */
async function ofSheet(
  archive: Archive,
  name: string,
  kept: readonly KeptRecipe[],
  said: Said,
): Promise<string> {
  if (kept.length > 0)
    throw new UsageError(
      `'${cleanText(name)}' is a recipe and may be a sheet: for the recipe add --of VERSION, for the sheet write last/${name}`,
    );
  const sheet = await sheetNamed(archive, name);
  await remarkOnSheet(archive, sheet, said);
  return sheetWords(sheet);
}

function sheetWords({ sheet, night, recipe, version }: PrintedSheet): string {
  const by = recipe === '' ? '' : `, '${recipe}' version ${version}`;
  return cleanText(`sheet ${sheet} of ${night ?? 'a night without a date'}${by}`);
}

async function ofRecipe(
  archive: Archive,
  name: string,
  kept: readonly KeptRecipe[],
  of: string | undefined,
  said: Said,
): Promise<string> {
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
  await archive.addRemark({ name, version, content, sheet: null, ...said });
  return `'${cleanText(name)}' version ${version}`;
}
