import { isoPoints } from '../paper/iso-6846.js';
import { type CurveShape, ownShape } from './curve-shapes.js';

/** What a strip says of the paper: its range, and where 0.60 above white lies; how far the patches lie from that curve. */
export interface PaperFit {
  readonly rangeR: number;
  /** log10 of the exposure, in the unit of the readings. */
  readonly logSpeedExposure: number;
  readonly typicalMiss: number;
}

export interface FitReading {
  readonly logExposure: number;
  /** Above paper white. */
  readonly density: number;
  /** One standard deviation of what the density may be off by. */
  readonly doubt: number;
}

/** Patches further off than this count less: a finger's shadow, a drop (Huber's weights; the figure from memory). */
const MOST_MISS = 0.06;
const USUAL_DOUBT = 0.02;
const NARROWEST_R = 30;
const WIDEST_R = 250;

/** A curve, its range and place found by searching; `blackDensity` is the paper's deepest above white. */
export function fitPaper(readings: readonly FitReading[], blackDensity: number): PaperFit {
  let best = { rangeR: 0, logSpeedExposure: 0, cost: Number.POSITIVE_INFINITY };
  const curveOf = curvesOf(ownShape, blackDensity);
  const costAt = (logR: number): number => {
    const rangeR = Math.exp(logR);
    const placed = bestPlace(readings, curveOf(rangeR));
    if (placed.cost < best.cost) best = { rangeR, logSpeedExposure: placed.at, cost: placed.cost };
    return placed.cost;
  };
  leastOf(costAt, Math.log(NARROWEST_R), Math.log(WIDEST_R), RANGE_STEPS);
  return { ...best, typicalMiss: Math.sqrt(best.cost / readings.length) };
}

/** Density for a log exposure from the one of 0.60 above white. */
type Curve = (logExposure: number) => number;

function curvesOf({ shareAt, placeOf }: CurveShape, black: number): (rangeR: number) => Curve {
  const at = placeOf(isoPoints.speedNetDensity / black);
  const reach = placeOf(isoPoints.highestNetShare) - placeOf(isoPoints.lowestNetDensity / black);
  return (rangeR) => {
    const steepness = (100 * reach) / rangeR;
    return (logExposure) => black * shareAt(at + steepness * logExposure);
  };
}

const RANGE_STEPS = 8;
const PLACE_STEPS = 8;
const REFINEMENTS = 17;

function bestPlace(readings: readonly FitReading[], curve: Curve): { at: number; cost: number } {
  const cost = (place: number) =>
    readings.reduce(
      (sum, { logExposure, density, doubt }) =>
        sum + huber(((density - curve(logExposure - place)) * USUAL_DOUBT) / doubt),
      0,
    );
  const logs = readings.map(({ logExposure }) => logExposure);
  const at = leastOf(cost, Math.min(...logs) - 1, Math.max(...logs) + 1, PLACE_STEPS);
  return { at, cost: cost(at) };
}

function huber(miss: number): number {
  const size = Math.abs(miss);
  return size <= MOST_MISS ? size * size : MOST_MISS * (2 * size - MOST_MISS);
}

/** Where a function is least: looked for coarsely, then by golden sections. */
function leastOf(cost: (x: number) => number, low: number, high: number, steps: number): number {
  const step = (high - low) / steps;
  const costs = Array.from({ length: steps + 1 }, (_, at) => cost(low + at * step));
  const least = costs.indexOf(Math.min(...costs));
  let [from, to] = [low + Math.max(0, least - 1) * step, low + Math.min(steps, least + 1) * step];
  let [left, right] = [to - GOLDEN * (to - from), from + GOLDEN * (to - from)];
  let [leftCost, rightCost] = [cost(left), cost(right)];
  for (let round = 0; round < REFINEMENTS; round++) {
    if (leftCost < rightCost) {
      [to, right, rightCost] = [right, left, leftCost];
      left = to - GOLDEN * (to - from);
      leftCost = cost(left);
    } else {
      [from, left, leftCost] = [left, right, rightCost];
      right = from + GOLDEN * (to - from);
      rightCost = cost(right);
    }
  }
  return (from + to) / 2;
}
const GOLDEN = (Math.sqrt(5) - 1) / 2;

/** The net density at which a paper counts as black: ISO 6846's S. */
export function nearlyBlack(blackDensity: number): number {
  return isoPoints.highestNetShare * blackDensity;
}
