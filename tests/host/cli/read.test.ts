import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Random } from '../../setup/random.js';
import { madeStrip } from '../darkroom/reading/made-strip.js';
import { treadle } from './treadle.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-read-'));
const scan = join(folder, 'strip.png');
const strip = madeStrip(new Random(7), { device: 'flatbed' });
const told = ['--first', `${strip.dosesMs[0]}ms`, '--step', '1/2', '--patches', `${strip.dosesMs.length}`];

beforeAll(async () => {
  const { width, height, codes } = strip;
  const picture = sharp(codes, { raw: { width, height, channels: 1 } }).rotate(270);
  await picture.toColourspace('srgb').withIccProfile('srgb').png().toFile(scan);
});
afterAll(() => rmSync(folder, { recursive: true }));

/** The smallest TIFF of floating-point grey (TIFF 6.0: baseline tags, and SampleFormat 3), 4 by 4. */
function tiffOfFractions(): Buffer {
  const [side, dataAt] = [4, 136];
  const tags = [
    [256, side],
    [257, side],
    [258, 32],
    [259, 1],
    [262, 1],
    [273, dataAt],
    [277, 1],
    [278, side],
    [279, side * side * 4],
    [339, 3],
  ] as const;
  const file = Buffer.alloc(dataAt + side * side * 4);
  file.write('II*\0', 'latin1');
  file.writeUInt32LE(8, 4);
  file.writeUInt16LE(tags.length, 8);
  for (const [at, [tag, value]] of tags.entries()) {
    file.writeUInt16LE(tag, 10 + 12 * at);
    file.writeUInt16LE(4, 12 + 12 * at);
    file.writeUInt32LE(1, 14 + 12 * at);
    file.writeUInt32LE(value, 18 + 12 * at);
  }
  for (let pixel = 0; pixel < side * side; pixel++) file.writeFloatLE(pixel / 20, dataAt + 4 * pixel);
  return file;
}

describe('treadle read', () => {
  it('reads a strip that no board made, whichever way it lies, and shows its edges', async () => {
    const edges = join(folder, 'edges.png');
    const ran = await treadle(['read', scan, ...told, '--edges', edges, '--json']);
    expect(ran.code).toBe(0);
    const { baseMs, lowMs, highMs, isoR, refused, patches, colour } = JSON.parse(ran.out);
    expect({ refused, colour }).toEqual({ refused: null, colour: 'embedded profile' });
    expect(lowMs).toBeLessThan(strip.baseMs);
    expect(highMs).toBeGreaterThan(strip.baseMs);
    expect(Math.abs(Math.log2(baseMs / strip.baseMs))).toBeLessThan(0.1);
    expect(isoR.low < strip.rangeR && strip.rangeR < isoR.high).toBe(true);
    expect(patches.map(({ exposureMs }: { exposureMs: number }) => exposureMs)).toEqual(strip.dosesMs);
    expect(existsSync(edges)).toBe(true);
    expect(readFileSync(edges).subarray(1, 4).toString()).toBe('PNG');
  });

  it('refuses a strip that has fewer patches than was said, with its code for scripts and words for people', async () => {
    const ran = await treadle(['read', scan, ...told.slice(0, 4), '--patches', '10', '--json']);
    expect(ran.code).toBe(2);
    expect(JSON.parse(ran.out)).toMatchObject({ refused: 'fewer-patches', baseMs: null, isoR: null });
    expect(ran.err).toMatch(/^treadle: the strip was not read \(fewer-patches\): .*--edges-at/);
  });

  // A strip of seven patches was once read as the six of the log, its first one taken for border.
  it('refuses a strip that has more patches than was said', async () => {
    const ran = await treadle(['read', scan, ...told.slice(0, 4), '--patches', '6', '--json']);
    expect(JSON.parse(ran.out)).toMatchObject({ refused: 'wrong-sheet', baseMs: null });
  });

  // Only those were counted that show a tone, and the base came out one step off, without a word.
  it('refuses a strip whose white patches were not counted, and says so', async () => {
    const paler = madeStrip(new Random(7), { device: 'flatbed', rangeR: 90, dosesMs: strip.dosesMs });
    const file = join(folder, 'paler.png');
    const { width, height, codes, dosesMs } = paler;
    await sharp(codes, { raw: { width, height, channels: 1 } })
      .png()
      .toFile(file);
    const countedAs = (patches: number) =>
      treadle(['read', file, '--first', `${dosesMs[0]}ms`, '--step', '1/2', '--patches', `${patches}`]);
    const ran = await countedAs(dosesMs.length - 1);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/\(room-for-more\): .*--patches.*crop.*--edges-at/);
    expect((await countedAs(dosesMs.length)).code).toBe(0);
  });

  it('gives about the exposure of a patch whose tone is pointed at, in pixels of the file', async () => {
    const large = join(folder, 'large.png');
    const { width, height, codes } = strip;
    await sharp(codes, { raw: { width, height, channels: 1 } })
      .resize({ width: 4 * width, kernel: 'nearest' })
      .png()
      .toFile(large);
    const { patches } = JSON.parse((await treadle(['read', large, ...told, '--json'])).out);
    const meant = patches.find(
      ({ densityAboveWhite }: { densityAboveWhite: number }) => densityAboveWhite > 0.4,
    );
    const x = Math.round((meant.edgesPx[0] + meant.edgesPx[1]) / 2);
    const ran = await treadle(['read', large, ...told, '--tone', `at ${x},${2 * height}`, '--json']);
    const { tone, baseMs } = JSON.parse(ran.out);
    expect(Math.abs(tone - meant.densityAboveWhite)).toBeLessThan(0.04);
    expect(Math.abs(Math.log2(baseMs / meant.exposureMs))).toBeLessThan(0.1);
    const nowhere = await treadle(['read', large, ...told, '--tone', 'at 1,1']);
    expect(nowhere).toMatchObject({ code: 2, out: '' });
    expect(nowhere.err).toMatch(/\(no-grey-there\): at the place whose tone is meant/);
  });

  it('says what is wrong with what was typed', async () => {
    const ran = await treadle(['read', scan, '--first', '5s']);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('--first, --step and --patches together');
    const tone = await treadle(['read', scan, ...told, '--tone', 'grey']);
    expect(tone.err).toContain("--tone: 'grey' is not a tone");
  });

  it('writes its edges into no file that is named as another kind of picture', async () => {
    const named = await treadle(['read', scan, ...told, '--edges', join(folder, 'edges.jpg')]);
    expect(named).toMatchObject({ code: 2, out: '' });
    expect(named.err).toMatch(/^treadle: --edges: '.*edges\.jpg' does not end in \.png/);
  });

  it('does not write over the scan that it reads, not with --force either', async () => {
    const ran = await treadle(['read', scan, ...told, '--edges', scan, '--force']);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('strip.png is what is being read: name another file');
  });

  it('does not pass over a sheet that was named beside a strip that was told', async () => {
    const ran = await treadle(['read', scan, ...told, '--sheet', '3']);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('give the one or the others');
  });

  // Inks were read as light, half a grade off, and fractions as black, with words of too little light.
  it('takes neither inks nor fractions for light', async () => {
    const inks = join(folder, 'inks.jpg');
    const grey = { width: 90, height: 40, channels: 3, background: '#777' } as const;
    await sharp({ create: grey }).toColourspace('cmyk').jpeg().toFile(inks);
    expect((await treadle(['read', inks, ...told])).err).toContain('printing presses (CMYK)');
    const fractions = join(folder, 'fractions.tif');
    writeFileSync(fractions, tiffOfFractions());
    expect((await treadle(['read', fractions, ...told])).err).toContain('save it in 8 or 16 bits');
  });

  // The picture library draws drawings, which may ask for other files, and one was read as a strip that is too dark.
  it('takes no drawing, whatever it calls itself', async () => {
    const drawing = join(folder, 'drawing.png');
    writeFileSync(drawing, '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
    const ran = await treadle(['read', drawing, ...told]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('is no picture that can be a scan: give a TIFF, PNG or JPEG file');
  });
});
