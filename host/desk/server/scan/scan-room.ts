import { commonScanReading } from '../../../darkroom/negative/negative.js';
import { negativeFromScan } from '../../../darkroom/negative/scan.js';
import type { Ways } from '../way.js';
import type { KeptScan } from './kept-scan.js';

/** Sixty megapixels of three colours in 16 bits, as much again for another layer of a file, and what else it says. */
export const MOST_SCAN_BYTES = 800_000_000;

/** Longest side of what the page is given: more than a large screen shows, and some 17 MB. */
const MOST_SIDE_PIXELS = 3600;

/**
 * A scan is written to the disk as it comes and read from there by the picture library, which makes it smaller on its
 * way, so that a large one is never whole in memory. One is read at a time.
 */
export function scanRoom(keptBy?: KeptScan): Ways {
  let before: Promise<unknown> = Promise.resolve();
  return {
    '/api/scan': {
      ...(keptBy && {
        GET: { answer: async () => ({ type: 'application/octet-stream', bytes: await keptBy.read() }) },
      }),
      POST: {
        mostBodyBytes: MOST_SCAN_BYTES,
        bodyIn: 'file',
        answer: ({ file, query }) => {
          const name = query.get('name') ?? 'the scan';
          const answer = before.then(async () => {
            const bytes = await pixelsOf(file!, name);
            await keptBy?.write(bytes, name);
            return { type: 'application/octet-stream', bytes };
          });
          before = answer.catch(() => {});
          return answer;
        },
      },
    },
  };
}

/** Width and height, then the pixels from the top left: whole numbers of 16 bits, the low byte first. */
async function pixelsOf(file: string, name: string): Promise<Uint8Array> {
  const scan = await negativeFromScan(file, commonScanReading, MOST_SIDE_PIXELS, name);
  const bytes = new Uint16Array(2 + scan.samples.length);
  bytes.set([scan.width, scan.height]);
  bytes.set(scan.samples, 2);
  return new Uint8Array(bytes.buffer);
}
