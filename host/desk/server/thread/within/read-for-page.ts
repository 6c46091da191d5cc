import {
  commonScanReading,
  type Negative,
  scanTable,
  srgbOfLight,
} from '../../../../darkroom/negative/negative.js';
import type { KeptStripReading } from '../../../../darkroom/profile/kept-reading.js';
import { filmTieOf } from '../../../../darkroom/reading/by-negative/film-tie-of.js';
import { edgeLines } from '../../../../darkroom/reading/edges-picture.js';
import { type Placed, readStrip, type StripReading } from '../../../../darkroom/reading/read-strip.js';
import { readingData } from '../../../../darkroom/reading/reading-data.js';
import { refusals } from '../../../../darkroom/reading/refusal.js';
import type { StripScan } from '../../../../darkroom/reading/strip-scan.js';
import { inScan, type TonePlace } from '../../../../darkroom/reading/tone.js';
import { keptPatches } from '../../../../daylight/papers/keep-strip.js';
import type { StripInLog } from '../../../../records/again/strip-in-log.js';
import type { DeskScan } from '../../scan/kept-scan.js';
import type { EdgeTold, StripPicture, StripTold } from '../../strips/told.js';

/** Longest side of the picture on the page. */
const SHOWN_PIXELS = 900;

export interface AskedByPage {
  readonly scan: StripScan;
  readonly strip: Pick<StripInLog, 'dosesMs' | 'chosenMs' | 'filter'>;
  readonly tone: number | TonePlace;
  /** Pixels of the file, as a person placed them. */
  readonly edgesPx: readonly number[] | undefined;
  /** The scan on the desk, for a strip with its picture, and what it is taken for. */
  readonly negative: (DeskScan & { readonly as: 'negative' | 'positive' }) | undefined;
}

export interface ReadForPage {
  readonly told: Omit<StripTold, 'keptIn'>;
  /** As they go into the profile of a paper. */
  readonly patches: KeptStripReading['patches'];
}

/** Reads the scan of a strip, for the page. */
export function readForPage({ scan, strip, tone, edgesPx, negative }: AskedByPage): ReadForPage {
  const placed = edgesPx?.map((edge) => edge / scan.filePixels);
  const reading = readStrip(scan, {
    ...{ dosesMs: strip.dosesMs, tone: inScan(tone, scan), device: scan.device },
    negative: negative && { negative: asNegative(negative, negative.as) },
    ...(placed && { edgesPx: placed }),
  });
  return { told: tell(scan, reading, strip), patches: keptPatches(reading) };
}

function asNegative(scan: DeskScan, as: 'negative' | 'positive'): Negative {
  return { ...scan, logTransmittance: scanTable({ ...commonScanReading, as }) };
}

function tell(
  scan: StripScan,
  reading: StripReading,
  { dosesMs, chosenMs, filter }: AskedByPage['strip'],
): ReadForPage['told'] {
  const { device, colour, filePixels } = scan;
  const along = reading.placed?.picture.along ?? (scan.width >= scan.height ? 'x' : 'y');
  return {
    ...readingData({ reading, strip: { chosenMs }, device, colour }),
    why: reading.refused === null ? '' : refusals[reading.refused],
    along,
    patchCount: dosesMs.length,
    filter,
    pixelsAlong: Math.round((along === 'x' ? scan.width : scan.height) * filePixels),
    edges: reading.placed === undefined ? [] : edgesIn(scan, reading.placed, along),
    picture: pictureOf(scan),
    filmTie: (reading.byNegative && filmTieOf(reading.byNegative, filter)) ?? null,
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
