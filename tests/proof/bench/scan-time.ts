import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { readStrip } from '../../../host/darkroom/reading/read-strip.js';
import { readStripScan } from '../../../host/darkroom/reading/strip-scan.js';
import { madeStrip } from '../../host/darkroom/reading/made-strip.js';
import { Random } from '../../setup/random.js';
import type { Section } from './page.js';

const WIDTH = 5480;
const ROUNDS = 3;
const FORMATS = ['tiff', 'png', 'jpeg'] as const;

/** A scan of 20 megapixels: from its file to the reading, beside what the picture library takes to decode the same file. */
export async function scanTime(): Promise<Section> {
  const folder = await mkdtemp(join(tmpdir(), 'treadle-scan-time-'));
  try {
    const rows: string[][] = [];
    for (const format of FORMATS) rows.push(await rowOf(join(folder, `strip.${format}`), format));
    return {
      title: 'A scan of 20 megapixels',
      about: `The quickest of ${ROUNDS}, in colours with sRGB's profile. Goal: read within 3 s.`,
      columns: ['file', 'read', 'decoded by sharp alone', 'ratio'],
      rows,
    };
  } finally {
    await rm(folder, { recursive: true });
  }
}

async function rowOf(file: string, format: (typeof FORMATS)[number]): Promise<string[]> {
  const strip = madeStrip(new Random(3), { device: 'flatbed' });
  const { width, height, codes, dosesMs } = strip;
  await sharp(codes, { raw: { width, height, channels: 1 } })
    .toColourspace('srgb')
    .resize({ width: WIDTH, height: Math.round(20_000_000 / WIDTH), fit: 'fill' })
    .withIccProfile('srgb')
    .toFormat(format)
    .toFile(file);
  const read = await quickest(async () => {
    const { refused } = readStrip(await readStripScan(file), { dosesMs, tone: 0.6, device: 'flatbed' });
    if (refused !== null) throw new Error(`the strip of the bench was refused: ${refused}`);
  });
  const decoded = await quickest(() => sharp(file).raw().toBuffer());
  return [
    format,
    `${(read / 1000).toFixed(2)} s`,
    `${(decoded / 1000).toFixed(2)} s`,
    (read / decoded).toFixed(1),
  ];
}

async function quickest(work: () => Promise<unknown>): Promise<number> {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const from = performance.now();
    await work();
    best = Math.min(best, performance.now() - from);
  }
  return best;
}
