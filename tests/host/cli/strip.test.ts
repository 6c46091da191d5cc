import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { treadle } from './treadle.js';

const halfStops = ['strip', '--first', '5s', '--step', '1/2', '--patches', '5'];
const equalSeconds = ['strip', '--first', '5s', '--step', '5s', '--patches', '5', '--equal-seconds'];

async function data(words: readonly string[]) {
  const ran = await treadle([...words, '--json']);
  expect(ran).toMatchObject({ code: 0, err: '' });
  return JSON.parse(ran.out) as {
    patches: { patch: number; doseMs: number; stops120: number }[];
    exposures: { order: number; doseMs: number; onMs: number }[];
  };
}

describe('treadle strip', () => {
  // Source: time(n) = first x 2^(n/2), computed; each addition is the difference of two totals.
  it('tells scripts the patches, lightest first, and what each exposure adds', async () => {
    const { patches, exposures } = await data(halfStops);
    expect(patches.map(({ patch }) => patch)).toEqual([1, 2, 3, 4, 5]);
    expect(patches.map(({ doseMs }) => doseMs)).toEqual([5000, 7071, 10_000, 14_142, 20_000]);
    expect(patches.map(({ stops120 }) => stops120)).toEqual([0, 60, 120, 180, 240]);
    expect(exposures.map(({ order }) => order)).toEqual([1, 2, 3, 4, 5]);
    expect(exposures.map(({ doseMs }) => doseMs)).toEqual([5000, 2071, 2929, 4142, 5858]);
    expect(exposures.map(({ onMs }) => onMs)).toEqual([5000, 2071, 2929, 4142, 5858]);
  });

  it('gives each patch all of its own when they are separate', async () => {
    const { exposures } = await data([...halfStops, '--separate']);
    expect(exposures.map(({ doseMs }) => doseMs)).toEqual([5000, 7071, 10_000, 14_142, 20_000]);
  });

  // Source: lag is what a long exposure loses: dose(T) tends to T - lag.
  it('keeps the lamp on longer for a lamp that starts late', async () => {
    const { exposures } = await data([...halfStops, '--lag', '120ms', '--rise', '90ms']);
    expect(exposures.map(({ doseMs }) => doseMs)).toEqual([5000, 2071, 2929, 4142, 5858]);
    for (const { doseMs, onMs } of exposures) expect(onMs - doseMs).toBeCloseTo(120, 2);
  });

  it('is the usual one where nothing else is asked for, and says the filter', async () => {
    const ran = await treadle(['strip', '--filter', '2']);
    expect(ran.out).toContain('6 patches from 2.000 s in steps of +1 stop, covered one by one, filter 2\n');
  });

  it('takes a lamp that gives more than its time', async () => {
    const { exposures } = await data([...halfStops, '--lag', '-40ms']);
    expect(exposures[0]).toMatchObject({ doseMs: 5000, onMs: 4960 });
  });

  it('reads as a table for people', async () => {
    expect((await treadle(halfStops)).out).toBe(
      `5 patches from 5.000 s in steps of +1/2 stop, covered one by one

patch     light   stops
    1   5.000 s       0
    2   7.071 s    +1/2
    3  10.000 s      +1
    4  14.142 s  +1 1/2
    5  20.000 s      +2

exposure  patches    light  lamp on
       1  1 to 5   5.000 s  5.000 s
       2  2 to 5   2.071 s  2.071 s
       3  3 to 5   2.929 s  2.929 s
       4  4 to 5   4.142 s  4.142 s
       5  5        5.858 s  5.858 s
`,
    );
  });

  // Source: log2 of 2/1, 3/2, 4/3 and 5/4, computed: 1, 0.58496, 0.41504, 0.32193.
  it('says of equal seconds what each is in stops', async () => {
    expect((await treadle(equalSeconds)).out).toContain(
      `patch     light  stops  stops from the last
    1   5.000 s  +0.00
    2  10.000 s  +1.00                +1.00
    3  15.000 s  +1.58                +0.58
    4  20.000 s  +2.00                +0.42
    5  25.000 s  +2.32                +0.32
`,
    );
  });

  it('takes the same from a file', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-test-'));
    try {
      const file = join(folder, 'half.json');
      writeFileSync(file, '{"first":"5s","step":"1/2","patches":5}');
      expect(await treadle(['strip', '--file', file])).toEqual(await treadle(halfStops));
      writeFileSync(file, '{"first":"5s","step":"1/2",\n"patches":1}');
      const ran = await treadle(['strip', '--file', file]);
      expect(ran).toMatchObject({ code: 2, out: '' });
      expect(ran.err).toBe(
        `treadle: ${file} cannot be used:\nline 2, column 11, patches: must be at least 2; given was 1\n`,
      );
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it.each([
    [
      ['strip', '--first', '5s'],
      '--step is missing: give --first, --step and --patches, or --file, or none of them for the usual strip',
    ],
    [['strip', '--separate'], '--step is missing'],
    [['strip', '--step', '1', '--patches', '5'], '--first is missing'],
    [['strip', '--filter', 'magenta 40'], '--filter: '],
    [
      ['strip', '--file', 'wide.json', '--first', '5s'],
      "option '--file <file>' cannot be used with option '--first <time>'",
    ],
    [['strip', '--first', '5sec', '--step', '1/2', '--patches', '5'], "--first: '5sec' is not a time"],
    [
      ['strip', '--first', '5s', '--step', '5s', '--patches', '5'],
      "--step: '5s' is a time; add --equal-seconds for steps of the same time",
    ],
    [
      ['strip', '--first', '5s', '--step', '1/7', '--patches', '5'],
      "--step: '1/7' is not a whole number of 1/120 stop",
    ],
    [
      ['strip', '--first', '5s', '--step', '1/2', '--patches', '5', '--equal-seconds'],
      "--step: '1/2' is not a time",
    ],
    [
      ['strip', '--first', '5s', '--step', '1/2', '--patches', '13'],
      "--patches: '13' is not a whole number from 2 to 12",
    ],
    [['strip', '--first', '5s', '--step', '-1/2', '--patches', '5'], 'a step must be more than nothing'],
    [['strip', '--first', '30min', '--step', '1', '--patches', '5'], 'longer than 3600.000 s'],
    [[...halfStops, '--lag', '2s'], "--lag: '2s' is not between -500 ms and 1000 ms"],
    [[...halfStops, '--fist', '2s'], "unknown option '--fist'"],
  ])('says what is wrong with %j', async (words, say) => {
    const ran = await treadle(words);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain(say);
    expect(ran.err).not.toMatch(/^\s+at |node:internal/m);
  });
});
