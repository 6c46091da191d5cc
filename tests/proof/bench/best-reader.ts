/**
 * What anybody could read from strips at most: every patch's density is seen with an error of its own, spread normally
 * (sigma), and the paper's curve is known. The best reading is then the most likely one, by least squares; no reading
 * without bias is surer than the information in the patches allows (Cramer and Rao, from memory).
 */

/** A patch of a strip: its time, and by how much it looked darker than wanted. */
export interface Patch {
  readonly doseMs: number;
  readonly over: number;
}

/** By how much a patch is darker than wanted that had `times` the right light. */
export type Curve = (times: number) => number;

const TABLE_STOPS = 10;
const TABLE_PARTS = 240;

/** The same curve from a table of many points: it is asked very often. */
export function tabled(curve: Curve): Curve {
  const densities = Float64Array.from({ length: 2 * TABLE_STOPS * TABLE_PARTS + 2 }, (_, at) =>
    curve(2 ** (at / TABLE_PARTS - TABLE_STOPS)),
  );
  return (times) => {
    const stops = Math.max(-TABLE_STOPS, Math.min(TABLE_STOPS, Math.log2(times)));
    const place = (stops + TABLE_STOPS) * TABLE_PARTS;
    const at = Math.floor(place);
    return densities[at]! + (place - at) * (densities[at + 1]! - densities[at]!);
  };
}

const GRID_STOPS = 1 / 8;
const GRID_FROM_MS = 200;
const GRID_STEPS = 12 * 8;
const HALVINGS = 12;
const SLOPE_STOPS = 1 / 100;

/** The time at which the strips are as they look with the least squares of error. */
export function likeliestMs(curve: Curve, patches: readonly Patch[]): number {
  const unlikely = (stops: number) =>
    patches.reduce((sum, { doseMs, over }) => {
      const error = over - curve(doseMs / (GRID_FROM_MS * 2 ** stops));
      return sum + error * error;
    }, 0);
  let best = 0;
  let least = unlikely(best);
  for (let step = 1; step <= GRID_STEPS; step++) {
    const here = unlikely(step * GRID_STOPS);
    if (here < least) [best, least] = [step * GRID_STOPS, here];
  }
  let stride = GRID_STOPS / 2;
  for (let halving = 0; halving < HALVINGS; halving++, stride /= 2)
    best = [best - stride, best, best + stride].reduce((one, other) =>
      unlikely(other) < unlikely(one) ? other : one,
    );
  return GRID_FROM_MS * 2 ** best;
}

/** The least spread, in stops, that a reading of these patches can have. */
export function leastSpreadStops(
  curve: Curve,
  rightMs: number,
  dosesMs: readonly number[],
  sigma: number,
): number {
  const information = dosesMs.reduce((sum, doseMs) => {
    const [below, above] = [-1, 1].map((side) => curve((doseMs / rightMs) * 2 ** (side * SLOPE_STOPS)));
    const slope = (above! - below!) / (2 * SLOPE_STOPS);
    return sum + (slope / sigma) ** 2;
  }, 0);
  return 1 / Math.sqrt(information);
}

/** The share of readings within `stops`, of a normal spread; the error function by Abramowitz and Stegun 7.1.26. */
export function shareWithin(stops: number, spreadStops: number): number {
  const x = stops / spreadStops / Math.SQRT2;
  const t = 1 / (1 + 0.3275911 * x);
  const terms = [1.061405429, -1.453152027, 1.421413741, -0.284496736, 0.254829592];
  return 1 - terms.reduce((sum, term) => sum * t + term, 0) * t * Math.exp(-x * x);
}
