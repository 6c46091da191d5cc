import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readStrip } from '../../../../host/darkroom/reading/read-strip.js';
import { readStripScan } from '../../../../host/darkroom/reading/strip-scan.js';
import { type OutsideStrip, outsidePng, toneOf } from './outside-strip.js';

const folder = mkdtempSync(join(tmpdir(), 'treadle-outside-'));
afterAll(() => rmSync(folder, { recursive: true }));

const allSides = ['left', 'right', 'top', 'bottom'] as const;
const usual: OutsideStrip = {
  curve: 'tanh',
  patches: 6,
  stepStops: 0.5,
  baseAt: 2.4,
  length: 480,
  turns: 0,
  border: allSides,
  bits: 8,
};
const FIRST_MS = 5000;

async function read(strip: OutsideStrip) {
  const file = join(folder, 'strip.png');
  writeFileSync(file, await outsidePng(strip));
  const dosesMs = Array.from({ length: strip.patches }, (_, at) => FIRST_MS * 2 ** (at * strip.stepStops));
  const asked = { dosesMs, isCounted: true, tone: 0.6, device: 'flatbed' } as const;
  return readStrip(await readStripScan(file), asked);
}

describe('a strip that somebody else made', () => {
  const cases: [string, Partial<OutsideStrip>][] = [
    ['as it is', {}],
    ['dark end first, 16 bits, noisy', { turns: 2, bits: 16, noise: 0.03 }],
    ['upright, in colours', { turns: 1, colours: true, length: 700 }],
    ['upright and dark end first, edges leaning', { turns: 3, tiltDegrees: 1, curve: 'gompertz' }],
    ['with white above and below alone', { border: ['top', 'bottom'], curve: 'logistic' }],
    ['with white above alone', { border: ['top'], tiltDegrees: -0.5 }],
    ['with white at its ends alone', { border: ['left', 'right'] }],
    ['on a black lid', { lid: 0.02, noise: 0.01 }],
    ['on a grey lid, three patches', { lid: 0.55, patches: 3, baseAt: 1.2 }],
    ['under a lid lighter than the paper', { lid: 1.08 }],
    ['crooked on a black lid', { lid: 0.02, crookedDegrees: 2.6 }],
    ['crooked the other way, upright', { lid: 0.02, crookedDegrees: -3, turns: 1 }],
    // The sheet's own edge was once taken for that of its first patch, and the strip refused.
    [
      'under a lid lighter than the paper, its first patch nearly white',
      { lid: 1.12, patches: 7, baseAt: 4.4 },
    ],
    ['the same, crooked', { lid: 1.12, patches: 7, baseAt: 4.4, crookedDegrees: 2 }],
    ['grey with a profile of gamma 1.8', { gamma: 1.8 }],
    ['grey and linear', { gamma: 1, bits: 16 }],
    ['in colours with a profile of gamma 2.2', { gamma: 2.2, colours: true, bits: 16 }],
    ['twelve quarter stops', { patches: 12, stepStops: 0.25, baseAt: 6 }],
    ['whole stops, white and black patches in a row', { patches: 9, stepStops: 1, baseAt: 4.3, length: 700 }],
    [
      'without any border, its first two patches white',
      { border: [], patches: 9, stepStops: 1, baseAt: 5.3 },
    ],
  ];
  it.each(cases)('%s: has the true base in its interval, and true tones', async (_, wishes) => {
    const strip = { ...usual, ...wishes };
    const { refused, figures, patches } = await read(strip);
    expect(refused).toBeNull();
    const truth = Math.log2(FIRST_MS) + strip.baseAt * strip.stepStops;
    expect(figures!.base!.low).toBeLessThan(truth);
    expect(figures!.base!.high).toBeGreaterThan(truth);
    expect(figures!.base!.high - figures!.base!.low).toBeLessThan(0.4);
    patches.forEach(({ density }, at) => {
      expect(Math.abs(density - toneOf(strip, at))).toBeLessThan(0.03);
    });
  });

  it('without any border and without white is refused, since nothing is to be measured from', async () => {
    expect((await read({ ...usual, border: [], baseAt: 1.2 })).refused).toBe('no-white');
  });

  // Once a base was read from it, and a narrow interval.
  it.each([
    { curve: 'tanh', patches: 5, baseAt: 3 },
    { curve: 'tanh', patches: 6, baseAt: 3.6 },
    { curve: 'logistic', patches: 5, baseAt: 3 },
  ] as const)('without steps, as a shadow or a sky shades off, is none: %o', async (wishes) => {
    expect((await read({ ...usual, ...wishes, isShade: true })).refused).toBe('not-a-strip');
  });

  // The crossing of coarse steps was once told to a twentieth stop, and was off by a sixth.
  it('of few hard steps has a wide interval, since the curve between them is guessed', async () => {
    const { figures } = await read({ ...usual, curve: 'logistic', patches: 3, stepStops: 1, baseAt: 0.5 });
    expect(figures!.base!.high - figures!.base!.low).toBeGreaterThan(0.2);
  });
});
