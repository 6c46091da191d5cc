import { densityAt } from '../paper/characteristic-curve.js';
import { curveFrom } from '../paper/paper.js';
import { intervalOf, sumOf } from './doubted.js';
import type { FilterProfile, PaperProfile } from './paper-profile.js';

/** The curve at one exposure, and between what it lies in 95 of 100 cases. */
export interface BandPoint {
  /** From the exposure that gives 0.60 above white through the reference filter. */
  readonly stops: number;
  /** Above paper white. */
  readonly density: number;
  readonly low: number;
  readonly high: number;
}

const LOG10_OF_STOP = Math.log10(2);
const SMALL = 1e-3;

/** The curve of a filter at these exposures; undefined where its range or its factor is not told. */
export function curveBand(
  { blackDoubted }: PaperProfile,
  { doubted }: FilterProfile,
  allStops: readonly number[],
): BandPoint[] | undefined {
  if (doubted === undefined) return undefined;
  const { rangeR, logFactor } = doubted;
  const density = (stops: number, range: number, factor: number, black: number) =>
    densityAt(
      curveFrom({ baseDensity: 0, maximumDensity: black }, { speedP: 1000, rangeR: range }),
      stops * LOG10_OF_STOP - factor,
    );
  return allStops.map((stops) => {
    const [range, factor, black] = [rangeR.value, logFactor.value, blackDoubted.value];
    const value = density(stops, range, factor, black);
    const slope = (shifted: number) => (shifted - value) / SMALL;
    const shifts = sumOf([
      { times: slope(density(stops, range + SMALL, factor, black)), of: rangeR },
      { times: slope(density(stops, range, factor + SMALL, black)), of: logFactor },
      { times: slope(density(stops, range, factor, black + SMALL)), of: blackDoubted },
    ]).shifts;
    const { low, high } = intervalOf({ value, shifts });
    return { stops, density: value, low: Math.max(0, low), high };
  });
}
