import { readStripScan } from '../../../darkroom/reading/strip-scan.js';
import { readTone } from '../../../darkroom/reading/tone.js';
import { InputError } from '../../../errors.js';
import { stripInLog } from '../../../records/again/strip-in-log.js';
import { readingArchive } from '../archive-at-desk.js';
import { sheetAt } from '../nights/sheet-at.js';
import type { KeptScan } from '../scan/kept-scan.js';
import { MOST_SCAN_BYTES } from '../scan/scan-room.js';
import type { AskedByPage } from '../thread/within/read-for-page.js';
import type { WorkThread } from '../thread/work-thread.js';
import { json, type Ways } from '../way.js';
import { keepInProfile, paperAsked } from './into-profile.js';
import type { StripTold } from './told.js';

/** The page placed edges that a strip of so many patches cannot have. */
class EdgesError extends InputError {
  override readonly name = 'EdgesError';
}

/** A strip is to be read against the negative on the desk, and none lies there. */
class NoNegativeError extends InputError {
  override readonly name = 'NoNegativeError';
}

/**
 * Scans of strips that the log has, each read as it is brought.
 * @param scans where the negative's lies, for strips with a picture.
 */
export function stripRoom(archive: string | undefined, thread: WorkThread, scans?: KeptScan): Ways {
  return {
    '/api/strip': {
      POST: {
        mostBodyBytes: MOST_SCAN_BYTES,
        bodyIn: 'file',
        answer: async ({ file, query }) => {
          const name = query.get('name') ?? 'the scan';
          const strip = await readingArchive(archive, async (one) =>
            stripInLog(one, (await sheetAt(one, query)).name),
          );
          const paper = paperAsked(query, strip);
          const tone = readTone(query.get('tone') ?? '');
          const edgesPx = edgesAsked(query, strip.dosesMs.length);
          const negative = await negativeAsked(query, scans);
          const scan = await readStripScan(file!, name);
          const { device } = scan;
          const given = [scan.light.buffer, ...(negative ? [negative.samples.buffer] : [])];
          const read = await thread.do('readStrip', { scan, strip, tone, edgesPx, negative }, given);
          const keep = paper && { ...paper, strip, read, scan: { name, device } };
          const keptIn = keep ? await keepInProfile(archive, thread, keep) : [];
          return json({ ...read.told, keptIn } satisfies StripTold);
        },
      },
    },
  };
}

/** @throws NoNegativeError */
async function negativeAsked(
  query: URLSearchParams,
  scans: KeptScan | undefined,
): Promise<AskedByPage['negative']> {
  const as = query.get('negative');
  if (as === null) return undefined;
  const kept = await scans?.pixels();
  if (kept === undefined)
    throw new NoNegativeError("no scan of a negative lies on the desk: lay it there, under 'The scan'");
  return { ...kept, as: as === 'positive' ? 'positive' : 'negative' };
}

/** @throws EdgesError */
function edgesAsked(query: URLSearchParams, patches: number): number[] | undefined {
  const text = query.get('edges');
  if (text === null) return undefined;
  const edges = /^\d{1,6}(,\d{1,6})*$/.test(text) ? text.split(',').map(Number) : [];
  if (new Set(edges).size === patches + 1) return edges;
  throw new EdgesError(`edges: ${patches} patches have ${patches + 1} edges, each at a pixel of its own`);
}
