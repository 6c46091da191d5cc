import type { Command } from 'commander';
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
    .argument('<name>', 'of a recipe that was sent')
    .argument('[words...]', 'what you think of the dry print')
    .option('--rating <number>', 'from 1, waste, to 5, this is the print')
    .option('--of <version>', 'the version; left out, the latest one')
    .addOption(archiveOption())
    .addHelpText('after', examples('treadle remark boathouse --rating 4 "sky a sixth less"'))
    .action(addRemark);
}

async function addRemark(name: string, words: readonly string[], options: NoteOptions): Promise<void> {
  const rating = options.rating === undefined ? null : readCount('--rating', options.rating, 1, BEST);
  const text = words.join(' ').trim();
  if (text === '' && rating === null) throw new UsageError('give --rating, or some words, or both');
  if (text.length > MOST_LETTERS)
    throw new UsageError(`the remark has ${text.length} letters, ${MOST_LETTERS} are allowed`);
  await using archive = await openArchive(options.archive);
  const kept = await archive.recipes(name);
  const versions = kept.map(({ recipe }) => recipe.version);
  if (versions.length === 0)
    throw new UsageError(
      `the archive has no recipe '${cleanText(name)}': 'treadle recipes --archive' lists them`,
    );
  const version =
    options.of === undefined ? Math.max(...versions) : readCount('--of', options.of, 0, MOST_VERSIONS);
  if (!versions.includes(version))
    throw new UsageError(
      `--of: '${name}' has no version ${version}, but ${[...new Set(versions)].join(', ')}`,
    );
  const print = await archive.latestPrint(name, version);
  const content = contentAt(kept, version, print ?? NOT_PRINTED)?.content ?? null;
  await archive.addRemark({ name, version, content, rating, words: cleanText(text) });
  remark(`Noted for '${name}' version ${version}.`);
}
