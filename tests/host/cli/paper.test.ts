import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Random } from '../../setup/random.js';
import { madeStrip } from '../darkroom/reading/made-strip.js';
import { treadle } from './treadle.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-paper-'));
const archive = join(folder, 'archive.db');
const scan = join(folder, 'strip.png');
const strip = madeStrip(new Random(7), { device: 'flatbed' });
const told = ['--first', `${strip.dosesMs[0]}ms`, '--step', '1/2', '--patches', `${strip.dosesMs.length}`];

beforeAll(async () => {
  const { width, height, codes } = strip;
  await sharp(codes, { raw: { width, height, channels: 1 } })
    .toColourspace('srgb')
    .png()
    .toFile(scan);
});
afterAll(() => rmSync(folder, { recursive: true }));

const paper = (...words: string[]) => treadle(['paper', ...words, '--archive', archive]);

describe('treadle paper', () => {
  it('reads a strip into the profile of its paper, and shows it with a chart', async () => {
    const added = await paper('add', 'Pearl', scan, ...told, '--filter', '2', '--developer', 'print 1:9');
    expect(added.err).toBe('');
    expect(added.out).toMatch(/^Pearl in print 1:9, version 1 of its profile\n/);
    const chart = join(folder, 'chart.png');
    const shown = await paper('Pearl', '--chart', chart, '--json');
    const { developer, filters, strips } = JSON.parse(shown.out);
    expect(developer).toBe('print 1:9');
    expect(filters[0].filter).toBe('2');
    expect(filters[0].rangeR.low).toBeLessThan(strip.rangeR);
    expect(filters[0].rangeR.high).toBeGreaterThan(strip.rangeR);
    expect(strips[0]).toMatchObject({ number: 1, state: 'taken', scan: 'strip.png', device: 'flatbed' });
    expect(readFileSync(chart).subarray(1, 4).toString()).toBe('PNG');
  });

  it('says what there is when a paper is asked for that was never read', async () => {
    const ran = await paper('show', 'Matt');
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain("nothing was read of 'Matt'; there is Pearl in print 1:9");
  });
});
