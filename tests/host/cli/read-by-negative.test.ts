import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { pictureTrial } from '../darkroom/reading/picture-trials.js';
import { treadle } from './treadle.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-negative-'));
const at = (name: string) => join(folder, name);
const { strip, negative, truth } = pictureTrial(4, { device: 'flatbed' });
const stepStops120 = Math.round(120 * Math.log2(strip.dosesMs[1]! / strip.dosesMs[0]!));
const earlierTie = {
  ...{ contrast: 1.1, contrastSpread: 0.05, flareShare: 0.02, flareSpread: 0.01, filter: '', speedMs: 900 },
  ...{ filmLog: -1, meanLight: 0.1, lightSpreadStops: 0.1 },
};

beforeAll(async () => {
  const { width, height, codes } = strip;
  await sharp(codes, { raw: { width, height, channels: 1 } })
    .png()
    .toFile(at('strip.png'));
  const raw = { width: negative.width, height: negative.height, channels: 1 } as const;
  await sharp(negative.samples, { raw }).toColourspace('grey16').png().toFile(at('film.png'));
  writeFileSync(
    at('mill.json'),
    `{ "title": "Mill",   "base": "12s",\n  "filmTie": ${JSON.stringify(earlierTie)}, "passes": [{ "kind": "base" }] }\n`,
  );
});
afterAll(() => rmSync(folder, { recursive: true }));

// Two starts of the command line and one registration: some 2 s.
it('what a strip and its negative told is kept in the recipe, and preview answers by it what base the negative needs', async () => {
  const told = [
    '--first',
    `${strip.dosesMs[0]! / 1000}s`,
    '--step',
    `${stepStops120}/120`,
    '--patches',
    `${strip.dosesMs.length}`,
  ];
  const read = await treadle([
    ...['read', at('strip.png'), ...told, '--negative', at('film.png'), '--keep-in', at('mill.json')],
    ...['--filter', '2'],
  ]);
  expect(read.err).toContain('mill.json keeps what the strip told');
  expect(read.out).toMatch(
    /The strip was found on the negative: .*turned by [\d.]+ degrees\. .*stray light/s,
  );
  expect(read.err).toMatch(
    /in place of what an earlier strip told: 900 ms without film, contrast 1\.10, flare 2\.0 %; now \d+ ms/,
  );
  const kept = readFileSync(at('mill.json'), 'utf8');
  expect(kept).toContain('"title": "Mill",   "base": "12s"');
  expect(JSON.parse(kept).filmTie.filter).toBe('2');
  const preview = await treadle([
    'preview',
    at('mill.json'),
    '--scan',
    at('film.png'),
    '-o',
    at('print.png'),
  ]);
  expect(preview.code).toBe(0);
  const words = /with a base of ([\d.]+) s, ([\d.]+) s? ?to ([\d.]+) s in 95 of 100 cases/.exec(preview.err)!;
  const [base, low, high] = words.slice(1).map((text) => Math.log2(Number(text) * 1000)) as [
    number,
    number,
    number,
  ];
  expect(low).toBeLessThan(truth.baseStops);
  expect(high).toBeGreaterThan(truth.baseStops);
  expect(Math.abs(base - truth.baseStops)).toBeLessThan(1 / 6);
});
