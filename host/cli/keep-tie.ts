import { setTimeout } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import { filmTieOf } from '../darkroom/reading/by-negative/film-tie-of.js';
import type { StripReading } from '../darkroom/reading/read-strip.js';
import { FileAccessError, FileChangedError } from '../files/file-access-error.js';
import { type FilmTie, filmTieWords } from '../recipe/film-tie.js';
import { fileFromRecipe, readRecipe } from '../recipe/index.js';
import { changedFileText } from '../recipe/reading/changed-file.js';
import { ownBytes, readAs, readOwnFile } from './read-own-file.js';
import { remark } from './terminal/print.js';
import { UsageError } from './usage-error.js';
import { checkNewFile, writeChangedFile } from './write-new-file.js';

/** Before long work: the recipe can be read, and written over. */
export async function checkKeeps(path: string, negative: string | undefined): Promise<void> {
  if (negative === undefined)
    throw new UsageError(
      '--keep-in keeps what strip and negative tell together: give the scan with --negative',
    );
  await readOwnFile(path, '--keep-in', readRecipe);
  await checkNewFile(path, true, '--keep-in');
}

/** So often another program may change the file between reading and writing it. */
const MOST_TRIES = 20;
const GAP_MS = 50;

/**
 * The recipe file with what the strip told of film and light; nothing else of it is touched. What another program writes
 * there in the same moment stays as well: seconds of reading are not thrown away for it.
 */
export async function keepTie(path: string, { byNegative }: StripReading, filter: string): Promise<void> {
  const filmTie = byNegative && filmTieOf(byNegative, filter);
  if (filmTie === undefined)
    return remark(`Nothing was kept in ${path}: the strip does not show 0.60 above white.`);
  const before = await withTie(path, filmTie);
  remark(`${path} keeps what the strip told of film and light: treadle preview goes by it.`);
  if (before !== undefined && !isDeepStrictEqual(before, filmTie))
    remark(
      `It stands in place of what an earlier strip told: ${filmTieWords(before)}; now ${filmTieWords(filmTie)}.`,
    );
}

/** @returns what stood there. */
async function withTie(path: string, filmTie: FilmTie): Promise<FilmTie | undefined> {
  for (let tries = 1; ; tries++) {
    const bytes = await ownBytes(path, '--keep-in');
    const before = readAs(path, bytes, readRecipe);
    const text = new TextDecoder().decode(bytes);
    const kind = { read: readRecipe, file: fileFromRecipe };
    const changed = changedFileText(kind, text, before, { ...before, filmTie });
    try {
      await writeChangedFile(path, changed, bytes, '--keep-in');
      return before.filmTie;
    } catch (error) {
      const isChanged = error instanceof FileAccessError && error.cause instanceof FileChangedError;
      if (!isChanged || tries === MOST_TRIES) throw error;
      await setTimeout(GAP_MS);
    }
  }
}
