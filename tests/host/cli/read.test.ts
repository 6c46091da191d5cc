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

  it('says what is wrong with what was typed', async () => {
    const ran = await treadle(['read', scan, '--first', '5s']);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('--first, --step and --patches together');
    const tone = await treadle(['read', scan, ...told, '--tone', 'grey']);
    expect(tone.err).toContain("--tone: 'grey' is not a tone");
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
