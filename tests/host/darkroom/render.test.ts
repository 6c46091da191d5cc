import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  commonEnlarger,
  easelLux,
  enlargerThatSuits,
  leftWideOpen,
} from '../../../host/darkroom/light/enlarger.js';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { commonScanReading, scanTable } from '../../../host/darkroom/negative/negative.js';
import { negativeFromScan } from '../../../host/darkroom/negative/scan.js';
import { ScanError } from '../../../host/darkroom/negative/scan-error.js';
import { readAperture } from '../../../host/darkroom/optics/aperture.js';
import { commonPaper, Paper } from '../../../host/darkroom/paper/paper.js';
import { greyOfDensity } from '../../../host/darkroom/picture/grey.js';
import { PrintRenderer, render } from '../../../host/darkroom/picture/render.js';
import {
  type Sheet,
  SheetError,
  type SheetLight,
  sheetDensityAt,
  wholeSheet,
} from '../../../host/darkroom/sheet/sheet.js';
import { FileAccessError } from '../../../host/files/file-access-error.js';
import { shapeSchema } from '../../../host/recipe/shape.js';

const paper = new Paper(commonPaper);
const negative = boathouseNegative(200);

const face = shapeSchema.parse({
  kind: 'ellipse',
  centreXPercent: 38,
  centreYPercent: 53,
  widthPercent: 6,
  heightPercent: 12,
});
const sky = shapeSchema.parse({ kind: 'edge', side: 'top', depthPercent: 55 });

const lights: SheetLight[] = [
  { filter: '2', luxSeconds: 18 },
  { filter: '2', luxSeconds: 7, tool: { shape: face, shades: 'inside' } },
  { filter: '00', luxSeconds: 15, tool: { shape: sky, shades: 'outside' } },
];

/** The fast picture against the exact density, at points that lie in the middle of pixels. */
function largestGreyError(sheet: Sheet): number {
  const picture = render(sheet, negative);
  let largest = 0;
  for (let row = 3; row < negative.height; row += 7)
    for (let column = 2; column < negative.width; column += 5) {
      const density = sheetDensityAt(
        sheet,
        negative,
        (100 * (column + 0.5)) / negative.width,
        (100 * (row + 0.5)) / negative.height,
      );
      const exact = greyOfDensity(density, paper.figures.baseDensity);
      largest = Math.max(largest, Math.abs(exact - picture.pixels[row * negative.width + column]!));
    }
  return largest;
}

describe('the picture of a print', () => {
  it('is the exact density to within two greys of 255, tools, mixed filters and soft rims included', () => {
    expect(largestGreyError(wholeSheet(paper, lights))).toBeLessThanOrEqual(2);
  });

  // From two filters on, the paper's layers are looked up one by one or, quicker, by the share of the second.
  it('is as exact where the softest and the hardest filter meet, where a third comes in, and where one is fogged', () => {
    const hard: SheetLight = { filter: '5', luxSeconds: 30, tool: { shape: face, shades: 'inside' } };
    const split = [lights[2]!, hard];
    const safelight = { filter: '0', luxSeconds: 0.8 };
    for (const sheet of [
      wholeSheet(paper, split),
      wholeSheet(paper, [...lights, hard]),
      { ...wholeSheet(paper, split), safelight },
      { ...wholeSheet(paper, lights.slice(0, 2)), safelight },
    ])
      expect(largestGreyError(sheet)).toBeLessThanOrEqual(2);
  });

  it('is as exact through a single filter and with fog from the safelight', () => {
    const sheet = wholeSheet(paper, lights.slice(0, 2));
    expect(largestGreyError(sheet)).toBeLessThanOrEqual(2);
    expect(largestGreyError({ ...sheet, safelight: { filter: '2', luxSeconds: 0.8 } })).toBeLessThanOrEqual(
      2,
    );
    expect(largestGreyError({ ...sheet, safelight: { filter: '00', luxSeconds: 0.8 } })).toBeLessThanOrEqual(
      2,
    );
  });

  it('is as exact in every patch of a strip', () => {
    const bands = [8, 11.3, 16, 22.6, 32].map((luxSeconds, patch) => ({
      fromPercent: patch * 20,
      toPercent: (patch + 1) * 20,
      lights: [{ filter: '2', luxSeconds }],
    }));
    expect(largestGreyError({ paper, bands })).toBeLessThanOrEqual(2);
  });

  // What is kept from one picture to the next is told apart by paper, filter, fog and area: none may be taken for another.
  it('is the same from what was kept of the pictures before as when it is made anew', () => {
    const kept = new PrintRenderer(negative);
    const hard = new Paper({ ...commonPaper, maximumDensity: 1.8 });
    const moved = {
      ...lights[1]!,
      tool: { shape: { ...face, centreXPercent: 60 }, shades: 'inside' },
    } as const;
    const safelight = { filter: '00', luxSeconds: 0.8 };
    const sheets: Sheet[] = [
      wholeSheet(paper, lights),
      wholeSheet(paper, lights.slice(0, 2)),
      wholeSheet(paper, [lights[0]!, moved]),
      { ...wholeSheet(paper, lights), safelight },
      wholeSheet(hard, lights),
      wholeSheet(hard, [lights[0]!, { ...moved, tool: { ...moved.tool, shades: 'outside' } }]),
      wholeSheet(paper, lights),
    ];
    for (const sheet of sheets) expect(kept.render(sheet).pixels).toEqual(render(sheet, negative).pixels);
  });

  it('is paper white where no light fell and black where far too much did', () => {
    const white = render(wholeSheet(paper, []), negative).pixels;
    const black = render(wholeSheet(paper, [{ filter: '2', luxSeconds: 1e5 }]), negative).pixels;
    expect(new Set(white)).toEqual(
      new Set([greyOfDensity(paper.figures.baseDensity, paper.figures.baseDensity)]),
    );
    expect(Math.max(...black)).toBeLessThan(30);
  });

  it('greys the whites first when the safelight fogs', () => {
    const sheet = wholeSheet(paper, lights);
    const change = (xPercent: number, yPercent: number) =>
      sheetDensityAt(
        { ...sheet, safelight: { filter: '2', luxSeconds: 0.9 } },
        negative,
        xPercent,
        yPercent,
      ) - sheetDensityAt(sheet, negative, xPercent, yPercent);
    const cloud = change(72, 14);
    const doorway = change(72, 48);
    expect(cloud).toBeGreaterThan(0.05);
    expect(doorway).toBeLessThan(cloud / 2);
  });

  it('lightens what was dodged and darkens what was burned, and nothing else', () => {
    const plain = wholeSheet(paper, [{ filter: '2', luxSeconds: 25 }]);
    const worked = wholeSheet(paper, lights);
    const change = (x: number, y: number) =>
      sheetDensityAt(worked, negative, x, y) - sheetDensityAt(plain, negative, x, y);
    expect(change(38, 53)).toBeLessThan(-0.1);
    expect(change(30, 5)).toBeGreaterThan(0.1);
    expect(change(20, 90)).toBeCloseTo(0, 9);
  });

  it('is refused when the bands of a strip leave a gap', () => {
    const bands = [
      { fromPercent: 0, toPercent: 40, lights: [] },
      { fromPercent: 50, toPercent: 100, lights: [] },
    ];
    expect(() => render({ paper, bands }, negative)).toThrow(SheetError);
    expect(() => render({ paper, bands: [] }, negative)).toThrow(/1 to 24 bands/);
    expect(() => render({ paper, bands: bands.slice(0, 1) }, negative)).toThrow(/end at 100 %/);
  });
});

describe('the enlarger', () => {
  const setup = { aperture: readAperture('f/8'), magnification: 6 };

  // Source: illuminance goes as 1 / N^2 (US Navy NAVEDTRA 14209, chapter 11); whole stops are exact powers.
  it('gives three stops more with the lens left wide open at f/2.8 instead of f/8', () => {
    const open = easelLux(commonEnlarger, leftWideOpen(commonEnlarger, setup));
    expect(open / easelLux(commonEnlarger, setup)).toBeCloseTo(8, 9);
  });

  // Source: ((M2 + 1) / (M1 + 1))^2, Clerc, Photography: Theory and Practice: 6 to 13 is 2^2.
  it('gives a quarter of the light when the magnification goes from 6 to 13', () => {
    expect(
      easelLux(commonEnlarger, { ...setup, magnification: 13 }) / easelLux(commonEnlarger, setup),
    ).toBeCloseTo(0.25, 9);
  });

  it('can be made to suit any base: the print then gets the light asked for', () => {
    const odd = { aperture: readAperture('f/5.6'), magnification: 4.25 };
    const enlarger = enlargerThatSuits(odd, 9000, 27);
    expect(easelLux(enlarger, odd) * 9).toBeCloseTo(27, 9);
  });

  it('prints everything black, face and sky alike, on a strip made with the lens wide open', () => {
    const lux = easelLux(commonEnlarger, leftWideOpen(commonEnlarger, setup));
    const strip = wholeSheet(paper, [{ filter: '2', luxSeconds: lux * 20 }]);
    for (const [x, y] of [
      [38, 53],
      [20, 30],
      [72, 48],
    ] as const)
      expect(sheetDensityAt(strip, negative, x, y)).toBeGreaterThan(1.3);
  });
});

describe('the demonstration negative', () => {
  it('is the same on every machine for one seed, and another for another', () => {
    expect(boathouseNegative(60).samples).toEqual(boathouseNegative(60).samples);
    expect(boathouseNegative(60, 8).samples).not.toEqual(boathouseNegative(60).samples);
  });

  // Source: the usual match of subject and paper: a subject range of 2.20 and grade 2 paper of R105 to R110.
  it('has the density range that a paper of grade 2 can print', () => {
    const densities = [...negative.samples]
      .map((code) => -negative.logTransmittance[code]!)
      .sort((a, b) => a - b);
    const range =
      densities[Math.floor(densities.length * 0.995)]! - densities[Math.floor(densities.length * 0.005)]!;
    expect(range).toBeGreaterThan(0.9);
    expect(range).toBeLessThan(1.25);
  });
});

describe('a scan', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'treadle-scan-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  it('comes back from a 16-bit PNG code for code', async () => {
    const path = join(folder, 'deep.png');
    const samples = Uint16Array.from({ length: 64 }, (_, index) => index * 1040);
    await sharp(samples, { raw: { width: 8, height: 8, channels: 1, depth: 'ushort' } as never })
      .toColourspace('grey16')
      .png()
      .toFile(path);
    const scan = await negativeFromScan(path);
    expect([scan.width, scan.height]).toEqual([8, 8]);
    expect([...scan.samples]).toEqual([...samples]);
  });

  it('comes back from an 8-bit PNG with white as white and mid grey as mid grey', async () => {
    const path = join(folder, 'shallow.png');
    await sharp(Uint8Array.from([0, 64, 128, 255]), { raw: { width: 4, height: 1, channels: 1 } })
      .png()
      .toFile(path);
    const scan = await negativeFromScan(path);
    expect([...scan.samples].map((code) => Math.round(code / 257))).toEqual([0, 64, 128, 255]);
  });

  it('is made smaller when asked to be', async () => {
    const path = join(folder, 'wide.png');
    const grey = sharp({ create: { width: 300, height: 160, channels: 3, background: '#888' } });
    await grey.extend({ bottom: 40, background: '#444' }).png().toFile(path);
    const scan = await negativeFromScan(path, commonScanReading, 90);
    expect([scan.width, scan.height]).toEqual([90, 60]);
  });

  // A picture that was black through and through was taken for film, and a base told with its interval.
  it('of one tone alone shows no negative', async () => {
    const path = join(folder, 'black.png');
    await sharp({ create: { width: 30, height: 20, channels: 3, background: '#000' } })
      .png()
      .toFile(path);
    await expect(negativeFromScan(path)).rejects.toThrow('shows no negative: all of it is one tone');
  });

  it('is read as density: white is the film base, and half the light is 0.30 denser', () => {
    const linear = scanTable({ ...commonScanReading, coding: 'linear' });
    expect(linear[65535]).toBeCloseTo(-0.25, 6);
    // 32767.5 / 65535 is half the light; log10 2 = 0.30103.
    expect(linear[65535]! - linear[32768]!).toBeCloseTo(0.30103, 4);
    const positive = scanTable({ ...commonScanReading, as: 'positive' });
    expect(positive[0]).toBeCloseTo(-0.25, 6);
    expect(positive[65535]).toBeCloseTo(-1.3, 6);
  });

  it('is refused in words when it is missing or no picture', async () => {
    const path = join(folder, 'letter.png');
    await writeFile(path, 'Dear Sir');
    await expect(negativeFromScan(path)).rejects.toThrow(ScanError);
    await expect(negativeFromScan(path)).rejects.toThrow(
      /letter.png is no picture.*give a TIFF, PNG or JPEG/,
    );
    await expect(negativeFromScan(join(folder, 'none.png'))).rejects.toThrow(FileAccessError);
  });
});
