import {
  isSamePaper,
  type MeasuredPaper,
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
  const there = papers.length === 0 ? 'none yet' : papers.map(paperName).join('; ');
  throw new NoProfileError(
    `nothing was read of '${paperName({ paper, developer: developer ?? '' })}'; there is ${there}`,
  );
}
