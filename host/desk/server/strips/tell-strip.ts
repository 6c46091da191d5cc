import { srgbOfLight } from '../../../darkroom/negative/negative.js';
import { filmTieOf } from '../../../darkroom/reading/by-negative/film-tie-of.js';
import { edgeLines } from '../../../darkroom/reading/edges-picture.js';
import {
  type Placed,
  readStrip,
  type StripAsked,
  type StripReading,
} from '../../../darkroom/reading/read-strip.js';
import { readingData } from '../../../darkroom/reading/reading-data.js';
import { refusals } from '../../../darkroom/reading/refusal.js';
import type { StripScan } from '../../../darkroom/reading/strip-scan.js';
import type { EdgeTold, StripPicture, StripTold } from './told.js';

/** Longest side of the picture on the page. */
const SHOWN_PIXELS = 900;

interface AskedByPage extends Pick<StripAsked, 'dosesMs' | 'tone' | 'negative'> {
  readonly chosenMs: number | undefined;
  readonly filter: string;
}

/** Reads the scan of a strip, for the page. @param edgesPx pixels of the file, as a person placed them. */
export function readForPage(
  scan: StripScan,
  { dosesMs, tone, negative }: AskedByPage,
  edgesPx?: readonly number[],
): StripReading {
  const placed = edgesPx?.map((edge) => edge / scan.filePixels);
  const { device } = scan;
  return readStrip(scan, { dosesMs, tone, device, negative, ...(placed && { edgesPx: placed }) });
}

/** What the page shows of it. @param keptIn the profile that it was kept in, in words. */
export function tellStrip(
  scan: StripScan,
  reading: StripReading,
  { dosesMs, tone, chosenMs, filter }: AskedByPage,
  keptIn: readonly string[],
): StripTold {
  const { device, colour, filePixels } = scan;
  const along = reading.placed?.picture.along ?? (scan.width >= scan.height ? 'x' : 'y');
  return {
    ...readingData({ reading, strip: { chosenMs }, tone, device, colour }),
    why: reading.refused === null ? '' : refusals[reading.refused],
    along,
    patchCount: dosesMs.length,
    pixelsAlong: Math.round((along === 'x' ? scan.width : scan.height) * filePixels),
    edges: reading.placed === undefined ? [] : edgesIn(scan, reading.placed, along),
    picture: pictureOf(scan),
    filmTie: (reading.byNegative && filmTieOf(reading.byNegative, filter)) ?? null,
    keptIn,
  };
}

function edgesIn({ width, height, filePixels }: StripScan, placed: Placed, along: 'x' | 'y'): EdgeTold[] {
  const percent = ([x, y]: readonly [number, number]) =>
    [(100 * (x + 0.5)) / width, (100 * (y + 0.5)) / height] as const;
  const axis = along === 'x' ? 0 : 1;
  return edgeLines(placed).map(([from, to]) => ({
    px: Math.round(((from[axis] + to[axis]) / 2) * filePixels),
    from: percent(from),
    to: percent(to),
  }));
}

function pictureOf({ width, height, light }: StripScan): StripPicture {
  const step = Math.max(1, Math.ceil(Math.max(width, height) / SHOWN_PIXELS));
  const small = { width: Math.floor(width / step), height: Math.floor(height / step) };
  const codes = Buffer.alloc(small.width * small.height);
  for (let y = 0; y < small.height; y++)
    for (let x = 0; x < small.width; x++)
      codes[y * small.width + x] = Math.round(255 * srgbOfLight(light[y * step * width + x * step]!));
  return { ...small, codes: codes.toString('base64') };
}
