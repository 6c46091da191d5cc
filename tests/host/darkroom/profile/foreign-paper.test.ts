import { describe, expect, it } from 'vitest';
import type { KeptStripReading } from '../../../../host/darkroom/profile/kept-reading.js';
import { profileOf } from './profile-trials.js';

/* Papers whose curve is not the project's: the logistic, which has no corners. ISO 6846's points (Focal Encyclopedia, p. 679). */
const BLACK = 1.99;
const FLARE = 0.004;
const logOf = (netDensity: number) => Math.log10(netDensity / (BLACK - netDensity));
const rangeOf = (steepness: number) => (100 * (logOf(0.9 * BLACK) - logOf(0.04))) / steepness;

/** Half-stop patches from light grey to no full black, as a flatbed of a little more stray light than usual shows them. */
function strip(filter: string, steepness: number, firstMs: number): KeptStripReading {
  const patches = [0, 1, 2, 3, 4, 5, 6, 7].map((at) => {
    const doseMs = firstMs * 2 ** (at / 2);
    const density = BLACK / (1 + 10 ** (-steepness * (Math.log10(doseMs / 1000) - 1)));
    return { doseMs, density: -Math.log10((10 ** -density + FLARE) / (1 + FLARE)), noise: 0.001 };
  });
  return { kind: 'strip', filter, device: 'flatbed', light: 'one', scan: 'strip.tif', patches };
}

const steepnesses = { '00': 1.6, '0': 1.8, '1': 2.2, '2': 2.6, '3': 3, '4': 3.7, '5': 4.4 };

describe('a paper whose curve has another form', () => {
  // The usual form was supposed of each filter anew: seven of them bent the black to 2.23, and each range by three in a hundred.
  it('has its black and its ranges in their intervals, through seven filters', () => {
    const { black, filters } = profileOf(
      Object.entries(steepnesses).flatMap(([filter, steepness]) =>
        [3000, 4000].map((firstMs) => strip(filter, steepness, firstMs)),
      ),
    );
    expect(black.low < BLACK && BLACK < black.high).toBe(true);
    for (const { filter, rangeR } of filters) {
      const truth = rangeOf(steepnesses[filter as keyof typeof steepnesses]);
      expect({ filter, isInside: rangeR!.low < truth && truth < rangeR!.high }).toMatchObject({
        isInside: true,
      });
    }
  });

  it('has the same range, however many filters have the same strip', () => {
    const rangeBy = (count: number) =>
      profileOf(Array.from({ length: count }, (_, at) => strip(`${at}`, 2.6, 3000))).filters[0]!.rangeR!
        .value;
    expect(Math.abs(rangeBy(13) / rangeBy(1) - 1)).toBeLessThan(0.03);
  });
});
