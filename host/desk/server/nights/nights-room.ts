import { remarkOnSheet } from '../../../records/again/sheet-remark.js';
import { openArchive } from '../../../records/archive/file-archive.js';
import { readingArchive } from '../archive-at-desk.js';
import { json, type Ways } from '../way.js';
import { listNights } from './list-nights.js';
import { nightAsked } from './night-key.js';
import { readRemark } from './read-remark.js';
import { sheetAt } from './sheet-at.js';
import { sheetRoom } from './sheet-room.js';
import { tellNight } from './tell-night.js';

/** The nights of an archive, or of the usual one, for the page that looks back on them. */
export function nightsRoom(archive: string | undefined): Ways {
  return {
    ...sheetRoom(archive),
    '/api/nights': { GET: { answer: async () => json(await readingArchive(archive, listNights)) } },
    '/api/night': {
      GET: {
        answer: async ({ query }) =>
          json(await readingArchive(archive, (one) => tellNight(one, nightAsked(query)))),
      },
    },
    '/api/negative': {
      GET: {
        answer: async ({ query }) =>
          json(await readingArchive(archive, (one) => one.nightsOf(query.get('recipe') ?? ''))),
      },
    },
    '/api/remark': {
      POST: {
        answer: async ({ body, query }) => {
          await using one = await openArchive(archive);
          await remarkOnSheet(one, (await sheetAt(one, query)).sheet, readRemark(body));
          return json({});
        },
      },
    },
  };
}
