import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { boathouseNegative } from '../../host/darkroom/demo-negative.js';
import { commonScanReading, type Negative, negativeFromScan } from '../../host/darkroom/negative.js';
import { writePrintPicture } from '../../host/darkroom/picture-file.js';
import { render } from '../../host/darkroom/render.js';
import { type SheetLight, wholeSheet } from '../../host/darkroom/sheet.js';
import { commonPaper, Paper } from '../../host/paper/paper.js';
import { type Shape, shapeSchema } from '../../host/shapes/shape.js';

/** Figures for the preview of one scan, from file to file, beside the image library's own plain curve. */
export interface PreviewFigures {
  readonly megapixels: number;
  readonly areas: number;
  readonly plainMs: number;
  readonly oneFilterMs: number;
  readonly mixedFiltersMs: number;
}

/** Two thousand lines of three thousand pixels: 6 megapixels, as a small-format scan has them. */
const SCAN_LINES = 2000;
const ROUNDS = 3;

/** The preview timed against sharp's gamma on the same 16-bit file, both written as PNG; the best of three. */
export async function previewFigures(): Promise<PreviewFigures> {
  const folder = await mkdtemp(join(tmpdir(), 'treadle-preview-'));
  try {
    const scan = join(folder, 'scan.png');
    const negative = boathouseNegative(SCAN_LINES);
    await writeScan(negative, scan);
    const print = join(folder, 'print.png');
    const preview = (filters: readonly [string, string]) => bestMs(() => previewOf(scan, print, filters));
    return {
      megapixels: (negative.width * negative.height) / 1e6,
      areas: areas.length,
      plainMs: await bestMs(() => sharp(scan).gamma(2.2).png().toFile(print)),
      oneFilterMs: await preview(['2', '2']),
      mixedFiltersMs: await preview(['2', '00']),
    };
  } finally {
    await rm(folder, { recursive: true });
  }
}

async function writeScan({ width, height, samples }: Negative, path: string): Promise<void> {
  await sharp(samples, { raw: { width, height, channels: 1 } })
    .toColourspace('grey16')
    .png()
    .toFile(path);
}

async function previewOf(
  scan: string,
  print: string,
  [base, burn]: readonly [string, string],
): Promise<void> {
  const negative = await negativeFromScan(scan, { ...commonScanReading, coding: 'linear' });
  const lights: SheetLight[] = areas.map((shape, index) =>
    index % 2 === 0
      ? { filter: base, luxSeconds: 3, tool: { shape, shades: 'inside' } }
      : { filter: burn, luxSeconds: 9, tool: { shape, shades: 'outside' } },
  );
  const sheet = wholeSheet(new Paper(commonPaper), [{ filter: base, luxSeconds: 20 }, ...lights]);
  await writePrintPicture(render(sheet, negative), print);
}

const areas: Shape[] = [
  { kind: 'ellipse', centreXPercent: 38, centreYPercent: 53, widthPercent: 6, heightPercent: 12 },
  { kind: 'edge', side: 'top', depthPercent: 50 },
  { kind: 'rectangle', leftPercent: 64, topPercent: 42, widthPercent: 16, heightPercent: 26 },
  { kind: 'edge', side: 'left', depthPercent: 12 },
  {
    kind: 'ellipse',
    centreXPercent: 75,
    centreYPercent: 78,
    widthPercent: 30,
    heightPercent: 20,
    turnDegrees: 8,
  },
  {
    kind: 'polygon',
    pointsPercent: [
      [12, 60],
      [26, 58],
      [36, 75],
      [28, 102],
      [-2, 102],
      [2, 80],
    ],
  },
  { kind: 'rectangle', leftPercent: 50, topPercent: 8, widthPercent: 30, heightPercent: 18, softPercent: 8 },
  { kind: 'edge', side: 'bottom', depthPercent: 10 },
].map((shape) => shapeSchema.parse(shape));

async function bestMs(work: () => Promise<unknown>): Promise<number> {
  const timesMs: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const startMs = performance.now();
    await work();
    timesMs.push(performance.now() - startMs);
  }
  return Math.min(...timesMs);
}

/** One line a case, for the bench's page. */
export function previewLines(figures: PreviewFigures): string[] {
  const line = (what: string, tookMs: number) =>
    `| ${what} | ${(figures.megapixels / (tookMs / 1000)).toFixed(1)} | ${(tookMs / figures.plainMs).toFixed(2)} |`;
  return [
    `| preview of ${figures.megapixels} megapixels, ${figures.areas} areas, file to file | megapixels/s | times sharp's plain curve |`,
    '| --- | ---: | ---: |',
    line("the image library's own gamma", figures.plainMs),
    line('print through one filter', figures.oneFilterMs),
    line('print through two filters', figures.mixedFiltersMs),
  ];
}
