import { measuredFilters, measuredWords } from '../../../daylight/papers/measured-filters.js';
import {
  type MeasuredPaper,
  paperName,
  paperProfileOf,
  papersInUse,
} from '../../../daylight/papers/measured-paper.js';
import { InputError } from '../../../errors.js';
import { readingArchive } from '../archive-at-desk.js';
import { json, type Ways } from '../way.js';
import type { PaperListed, PaperTold } from './told.js';

/** The page asked for a paper that the archive does not have. */
class NoPaperError extends InputError {
  override readonly name = 'NoPaperError';
}

/** What was measured of papers, for pictures and for what is worked out by filters. */
export function papersRoom(archive: string | undefined): Ways {
  return {
    '/api/papers': { GET: { answer: async () => json(await listed(archive)) } },
    '/api/papers/paper': {
      GET: {
        answer: async ({ query }) =>
          json(await told(archive, query.get('paper') ?? '', query.get('developer') ?? '')),
      },
    },
  };
}

async function listed(file: string | undefined): Promise<PaperListed[]> {
  const papers = await readingArchive(file, (archive) => papersInUse(archive));
  return papers.map(({ paper, developer, versions }) => ({
    paper,
    developer,
    versions,
    name: paperName({ paper, developer }),
  }));
}

async function told(file: string | undefined, paper: string, developer: string): Promise<PaperTold> {
  const measured = await readingArchive(file, (archive) => paperProfileOf(archive, paper, developer));
  if (measured === undefined)
    throw new NoPaperError(`nothing was read of '${paperName({ paper, developer })}'`);
  return toldOf(measured);
}

function toldOf(measured: MeasuredPaper): PaperTold {
  const { rangeSource, factorSource, ...table } = measuredFilters(measured);
  const names = table.filters.map(({ filter }) => filter);
  const each = <Told>(of: (filter: string) => Told) =>
    Object.fromEntries(names.map((filter) => [filter, of(filter)]));
  return {
    name: paperName(measured),
    figures: measured.figures,
    table,
    rangeSources: each((filter) => rangeSource!(filter)),
    factorSources: each((from) => each((to) => factorSource!(from, to))),
    words: measuredWords(measured, [])[0]!,
    filterWords: each((filter) => measuredWords(measured, [filter])[1]!),
  };
}
