import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { commonScanReading, type Negative } from '../../../host/darkroom/negative/negative.js';
import { negativeFromScan } from '../../../host/darkroom/negative/scan.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { printPng } from '../../../host/darkroom/picture/picture-file.js';
import { render } from '../../../host/darkroom/picture/render.js';
import { type SheetLight, wholeSheet } from '../../../host/darkroom/sheet/sheet.js';
import { writeWholeFile } from '../../../host/files/write-file.js';
import { type Shape, shapeSchema } from '../../../host/recipe/shape.js';
import { bestMs, type Section, times } from './page.js';

/** Two thousand lines of three thousand pixels: 6 megapixels, as a small-format scan has them. */
const SCAN_LINES = 2000;
const ROUNDS = 5;
const GOAL = 3;

/** The preview of a scan timed against sharp's own gamma on the same 16-bit file, both from file to file. */
export async function preview(): Promise<Section> {
  const folder = await mkdtemp(join(tmpdir(), 'treadle-preview-'));
  try {
    const scan = join(folder, 'scan.png');
    const negative = boathouseNegative(SCAN_LINES);
    await writeScan(negative, scan);
    const print = join(folder, 'print.png');
    const [plainMs, oneFilterMs, mixedMs] = await bestMs(
      ROUNDS,
      () => sharp(scan).gamma(PLAIN_GAMMA).png().toFile(print),
      () => previewOf(scan, print, ['2', '2']),
      () => previewOf(scan, print, ['2', '00']),
    );
    const megapixels = (negative.width * negative.height) / 1e6;
    const row = (what: string, tookMs: number) => [
      what,
      (megapixels / (tookMs / 1000)).toFixed(1),
      times(tookMs / plainMs!),
    ];
    return {
      title: `Preview of a scan: ${megapixels} megapixels, ${areas.length} areas`,
      about:
        "A 16-bit scan read, printed and written as PNG, against the image library's own plain curve (gamma) from the " +
        `same file to the same kind of file. Goal: at most ${GOAL} times its time.`,
      columns: ['picture', 'megapixels/s', "times the library's curve"],
      rows: [
        row("the library's gamma", plainMs!),
        row('a print through one filter', oneFilterMs!),
        row('a print through two filters', mixedMs!),
      ],
    };
  } finally {
    await rm(folder, { recursive: true });
  }
}

const PLAIN_GAMMA = 2.2;

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
  await writeWholeFile(print, await printPng(render(sheet, negative)), { over: true });
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
