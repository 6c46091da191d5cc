import { paperName, papersInUse } from '../../../daylight/papers/measured-paper.js';
import { InputError } from '../../../errors.js';
import { readingArchive } from '../archive-at-desk.js';
import type { WorkThread } from '../thread/work-thread.js';
import { json, type Ways } from '../way.js';
import type { PaperListed, PaperTold } from './told.js';

/** The page asked for a paper that the archive does not have. */
class NoPaperError extends InputError {
  override readonly name = 'NoPaperError';
}

/** What was measured of papers, for pictures and for what is worked out by filters. */
export function papersRoom(archive: string | undefined, thread: WorkThread): Ways {
  return {
    '/api/papers': { GET: { answer: async () => json(await listed(archive)) } },
    '/api/papers/paper': {
      GET: {
        answer: async ({ query }) =>
          json(await told(archive, thread, query.get('paper') ?? '', query.get('developer') ?? '')),
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

async function told(
  file: string | undefined,
  thread: WorkThread,
  paper: string,
  developer: string,
): Promise<PaperTold> {
  const rows = await readingArchive(file, (archive) => archive.paperReadings(paper));
  const measured = await thread.do('tellPaper', { rows, paper, developer });
  if (measured === undefined)
    throw new NoPaperError(`nothing was read of '${paperName({ paper, developer })}'`);
  return measured;
}
