import type { KeptStripReading } from '../../../darkroom/profile/kept-reading.js';
import { keepStrip, readPaperName } from '../../../daylight/papers/keep-strip.js';
import { stripFilter } from '../../../daylight/papers/strip-filter.js';
import { InputError } from '../../../errors.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import type { StripInLog } from '../../../records/again/strip-in-log.js';
import { openArchive } from '../../../records/archive/file-archive.js';
import { nightOf } from '../../../records/log/night.js';
import type { ReadForPage } from '../thread/within/read-for-page.js';
import type { WorkThread } from '../thread/work-thread.js';

/** What the page asked to keep cannot be kept; the message says why. */
class NotKeptError extends InputError {
  override readonly name = 'NotKeptError';
}

interface Asked {
  readonly paper: string;
  /** Undefined for the one that was read last. */
  readonly developer: string | undefined;
  /** Empty for none. */
  readonly filter: string;
}

interface ReadStrip extends Asked {
  readonly strip: StripInLog;
  readonly read: ReadForPage;
  readonly scan: { readonly name: string; readonly device: KeptStripReading['device'] };
}

/** Into the profile of which paper a strip is to be kept; undefined where it is only read. @throws NotKeptError */
export function paperAsked(
  query: URLSearchParams,
  { filter }: Pick<StripInLog, 'filter'>,
): Asked | undefined {
  const paper = query.get('paper');
  if (paper === null) return undefined;
  const [developer, said] = [filledIn(query, 'developer'), filledIn(query, 'filter')];
  return {
    paper: readField('paper', () => readPaperName(paper)),
    developer: developer && readField('developer', () => readPaperName(developer)),
    filter: readField('filter', () => stripFilter(said, filter)),
  };
}

function filledIn(query: URLSearchParams, field: string): string | undefined {
  const text = query.get(field) ?? '';
  return text.trim() === '' ? undefined : text;
}

function readField(field: string, read: () => string): string {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof UnreadableText)) throw error;
    throw new NotKeptError(`${field}: ${error.message}`);
  }
}

/**
 * Keeps a strip as `treadle paper add` does.
 * @returns what is measured of the paper now, in words.
 * @throws NotKeptError where it was not read, or shows a picture; SameStripError, ArchiveError
 */
export async function keepInProfile(
  file: string | undefined,
  thread: WorkThread,
  { paper, developer, filter, strip, read, scan }: ReadStrip,
): Promise<string[]> {
  if (read.told.refused !== null)
    throw new NotKeptError(
      'a strip that could not be read tells nothing of its paper: put its edges right first',
    );
  if (read.told.filmContrast !== null)
    throw new NotKeptError(
      'only a strip of even light goes into the profile of a paper, not one of a picture',
    );
  const night = strip.night ?? 'undated';
  await using archive = await openArchive(file);
  const kept = await keepStrip(archive, {
    paper,
    developer,
    body: {
      kind: 'strip',
      filter,
      device: scan.device,
      light: strip.night ?? nightOf(Date.now()),
      scan: scan.name,
      sheet: `${night}/${strip.sheet}`,
      patches: read.patches,
    },
  });
  const rows = await archive.paperReadings(kept.paper);
  const { words, filterWords } = (await thread.do('tellPaper', { rows, ...kept }))!;
  return [words, filterWords[filter]!];
}
