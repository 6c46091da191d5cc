import { stripsIn } from '../darkroom/profile/strips.js';
import {
  isSamePaper,
  type MeasuredPaper,
  type PaperOnShelf,
  paperName,
  paperProfileOf,
  papersOn,
} from '../daylight/papers/measured-paper.js';
import { InputError } from '../errors.js';
import { counted } from '../figures.js';
import type { ArchiveReader } from '../records/archive/archive.js';
import { readCount } from './read-options.js';
import { UsageError } from './usage-error.js';

/** Nothing was read of this paper yet; the message says what there is, and how to begin. */
class NoProfileError extends InputError {
  override readonly name = 'NoProfileError';
}

const MOST_STRIPS = 10_000;

/** @throws NoProfileError */
export async function profileNamed(
  archive: ArchiveReader,
  paper: string,
  { developer, asOf }: { readonly developer?: string; readonly asOf?: string },
): Promise<MeasuredPaper> {
  const version = asOf === undefined ? undefined : readCount('--as-of', asOf, 1, MOST_STRIPS);
  const papers = await papersOn(archive);
  const name = papers.findLast((each) => isSamePaper(each.paper, paper))?.paper ?? paper;
  const measured = await paperProfileOf(archive, name, developer, version);
  if (measured !== undefined && (version ?? 1) <= measured.versions) return measured;
  if (measured !== undefined)
    throw new UsageError(`--as-of: there are ${counted(measured.versions, 'version')} of this profile`);
  const on = papers.findLast(
    (each) => each.paper === name && each.developer === (developer ?? each.developer),
  );
  if (on !== undefined)
    throw new NoProfileError(
      `every strip of '${paperName(on)}' is left out; 'treadle paper take-in' takes one in again`,
    );
  throw nothingRead(papers, paper, developer);
}

/** A paper by its name, and how many strips of it were read, with those that are left out. */
export interface ReadPaper {
  readonly paper: string;
  readonly developer: string;
  readonly strips: number;
}

/** @throws NoProfileError */
export async function readPaperNamed(
  archive: ArchiveReader,
  paper: string,
  developer: string | undefined,
): Promise<ReadPaper> {
  const papers = await papersOn(archive);
  const on = papers.findLast(
    (each) => isSamePaper(each.paper, paper) && each.developer === (developer ?? each.developer),
  );
  if (on === undefined) throw nothingRead(papers, paper, developer);
  const rows = (await archive.paperReadings(on.paper)).filter((row) => row.developer === on.developer);
  return { paper: on.paper, developer: on.developer, strips: stripsIn(rows).strips.at(-1)?.number ?? 0 };
}

function nothingRead(
  papers: readonly PaperOnShelf[],
  paper: string,
  developer: string | undefined,
): NoProfileError {
  const there = papers.length === 0 ? 'none yet' : papers.map(paperName).join('; ');
  return new NoProfileError(
    `nothing was read of '${paperName({ paper, developer: developer ?? '' })}'; there is ${there}`,
  );
}
