import { DEVIATIONS, LOG10_OF_STOP } from '../reading/strip-figures.js';
import { curveDensity } from './curve-form.js';
import { unknownNames } from './paper-model.js';
import type { PaperProfile } from './paper-profile.js';

/** The curve at one exposure, and between what it lies in 95 of 100 cases. */
export interface BandPoint {
  /** From the exposure that gives 0.60 above white through the reference filter. */
  readonly stops: number;
  /** Above paper white. */
  readonly density: number;
  readonly low: number;
  readonly high: number;
}

const SMALL = 1e-4;

/** The curve of a filter at these exposures. */
export function curveBand(
  { estimate, referenceFilter }: PaperProfile,
  filter: string,
  allStops: readonly number[],
): BandPoint[] {
  const [range, speed] = [unknownNames.range(filter), unknownNames.speed(filter)];
  const [reference, { black }] = [unknownNames.speed(referenceFilter), unknownNames];
  const corners = [unknownNames.corners, unknownNames.cornersOf(filter)];
  const skew = [unknownNames.skew, unknownNames.skewOf(filter)];
  const names = [range, black, ...corners, ...skew, ...(speed === reference ? [] : [speed, reference])];
  const density = (stops: number, shifted: string | undefined): number => {
    const shiftedValue = (name: string) => estimate.value(name) + (name === shifted ? SMALL : 0);
    const factor = speed === reference ? 0 : shiftedValue(speed) - shiftedValue(reference);
    const sumOf = (both: readonly string[]) => both.reduce((sum, name) => sum + shiftedValue(name), 0);
    return curveDensity(stops * LOG10_OF_STOP - factor, {
      lnBlack: shiftedValue(black),
      lnRange: shiftedValue(range),
      lnCorners: sumOf(corners),
      lnPower: sumOf(skew),
    });
  };
  return allStops.map((stops) => {
    const value = density(stops, undefined);
    const slopes = new Map(names.map((name) => [name, (density(stops, name) - value) / SMALL]));
    const half = DEVIATIONS * estimate.deviation(slopes);
    return { stops, density: value, low: Math.max(0, value - half), high: value + half };
  });
}
