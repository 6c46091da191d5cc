import { describe, expect, it } from 'vitest';
import { readTablet, tabletDoses } from '../../../../host/cli/step-tablet.js';
import { isoFiguresFrom } from '../../../../host/darkroom/paper/iso-6846.js';
import { profileFrom } from '../../../../host/darkroom/profile/paper-profile.js';
import { noiseOf, readStrip } from '../../../../host/darkroom/reading/read-strip.js';
import { Random } from '../../../setup/random.js';
import { scanOf } from '../reading/reading-trials.js';
import { seenBy } from '../reading/scanner-model.js';

/*
 * A paper that the project knows nothing of: its densities rise as a normal distribution over log exposure, so that its
 * figures by the definitions of ISO 6846 (The Focal Encyclopedia of Photography, p. 679; P = 1000 / Hm from memory) follow
 * from a table of the normal distribution. With a black of 2.00 above white, T (0.04) is its 2 % point, M (0.60) its 30 %
 * point and S its 90 % point: -2.05375, -0.52440 and 1.28155 (Abramowitz and Stegun, Handbook of Mathematical Functions,
 * tables of the normal probability function, from memory). The tablet has 21 steps of 0.15, as such tablets are sold (its
 * maker's specification, as quoted in a darkroom forum).
 */
const BLACK = 2;
const [T, M, S] = [-2.05375, -0.5244, 1.28155];
const SPREAD = 0.33;
const LOG_M = Math.log10(5);
const TRUE_R = 100 * SPREAD * (S - T);
const TRUE_P = 1000 / 10 ** LOG_M;
const densityAt = (log: number) => BLACK * normalShare(M + (log - LOG_M) / SPREAD);

/** Abramowitz and Stegun, 26.2.17, from memory: right to 7.5e-8. */
function normalShare(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * poly;
  return z > 0 ? 1 - tail : tail;
}

const steps = readTablet('21x0.15');
const LUX = 2;
const dosesMs = tabletDoses(40_000, steps);
const logs = dosesMs.map((doseMs) => Math.log10((doseMs * LUX) / 1000));

/** Its print, scanned by a flatbed, with a white border. */
function scan(random: Random) {
  const [width, height, border] = [880, 150, 20];
  const patchWidth = (width - 2 * border) / steps.length;
  const density = new Float32Array(width * height);
  for (let y = border; y < height - border; y++)
    for (let x = border; x < width - border; x++)
      density[y * width + x] = densityAt(logs[Math.floor((x - border) / patchWidth)]!);
  const codes = seenBy(random, 'flatbed', { width, height, density });
  const edgesPx = dosesMs.map((_, at) => border + at * patchWidth).concat(width - border);
  return { made: { width, height, codes, dosesMs, baseMs: 0, rangeR: TRUE_R, edgesPx }, edgesPx };
}

describe('the print of a step tablet', () => {
  it('is measured by the standard’s definitions, step by step, to the figures of the normal distribution', () => {
    const readings = logs.map((logExposure) => ({ logExposure, density: densityAt(logExposure) }));
    const { exactRangeR, exactSpeedP } = isoFiguresFrom(readings, 0);
    // Straight lines over steps of half a stop, where the curve bends.
    expect(Math.abs(exactRangeR - TRUE_R)).toBeLessThan(2);
    expect(Math.abs(Math.log2(exactSpeedP / TRUE_P))).toBeLessThan(0.03);
  });

  it.each([1, 2])('is read from a scan to R and P that lie in their intervals (scan %d)', (seed) => {
    const { made, edgesPx } = scan(new Random(seed));
    const reading = readStrip(scanOf(made, 'flatbed'), { dosesMs, tone: 0.6, device: 'flatbed', edgesPx });
    expect(reading.refused).toBeNull();
    const patches = reading.patches.map((patch) => ({
      doseMs: patch.doseMs,
      density: patch.density,
      noise: noiseOf(patch),
    }));
    const body = {
      ...{ kind: 'strip', filter: '', device: 'flatbed', light: 'one', lux: LUX },
      ...{ wedge: '21x0.15', scan: 'tablet.tif', patches },
    };
    const [{ rangeR, speedP } = {}] = profileFrom([{ body, keptMs: 0 }])!.filters;
    expect(Math.abs(rangeR!.value - TRUE_R)).toBeLessThan(6);
    expect(rangeR!.low < TRUE_R && TRUE_R < rangeR!.high).toBe(true);
    expect(speedP!.low < TRUE_P && TRUE_P < speedP!.high).toBe(true);
  });

  it('is told by its number of even steps, or by each density', () => {
    expect(readTablet('5x0.30')).toHaveLength(5);
    expect(readTablet('0.05, 0.2, 0.36, 0.5, 0.66')[2]).toBe(0.36);
    expect(() => readTablet('0.5,0.2,0.3,0.4,0.6')).toThrow(/5 to 41 rising densities/);
    expect(tabletDoses(1000, [0, 0.3, 1])[0]).toBeCloseTo(100, 6);
  });
});
