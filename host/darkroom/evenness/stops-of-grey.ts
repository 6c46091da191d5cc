import { logExposureFor } from '../paper/characteristic-curve.js';
import { curveFrom } from '../paper/paper.js';
import { ASSUMED_BLACK, ASSUMED_BLACK_SPREAD } from '../reading/assumed-black.js';
import { errorBudgets } from '../reading/error-budget.js';
import { solved } from '../reading/normal-equations.js';
import { SurveyRefused } from './evenness-refusal.js';

/** How much light a grey stands for, and how far to believe it. */
export interface StopsOfGrey {
  /** Rising with the density; only differences say something. */
  readonly stopsOf: (density: number) => number;
  /** One standard deviation, as a share of every difference in stops. */
  readonly share: number;
  /** At the middle of the sheet. */
  readonly stopsPerDensity: number;
}

const LOG10_OF_STOP = Math.log10(2);

/** A paper's range as it is known: from its box or a file, or measured. */
export interface KnownRange {
  readonly rangeR: number;
  /** One standard deviation. */
  readonly spreadR: number;
}

/** Papers' curves differ from the one that is taken, in slope at one place more than over the range. */
const SLOPE_SHAPE_SHARE = 0.07;

/** By the paper's range and the curve that previews take for every paper; `density` is above white. */
export function stopsByRange({ rangeR, spreadR }: KnownRange, density: number): StopsOfGrey {
  const slopeOf = (range: number, at: number, black: number) => {
    const stops = stopsBy(range, black);
    return (stops(at + STEP) - stops(at - STEP)) / (2 * STEP);
  };
  const { gammaShare } = errorBudgets.flatbed;
  const here = slopeOf(rangeR, density, ASSUMED_BLACK);
  const shifts = [
    slopeOf(rangeR + spreadR, density, ASSUMED_BLACK) - here,
    slopeOf(rangeR, density * (1 + gammaShare), ASSUMED_BLACK) * (1 + gammaShare) - here,
    slopeOf(rangeR, density, ASSUMED_BLACK + ASSUMED_BLACK_SPREAD) - here,
  ];
  return {
    stopsOf: stopsBy(rangeR, ASSUMED_BLACK),
    share: Math.hypot(SLOPE_SHAPE_SHARE, ...shifts.map((shift) => shift / here)),
    stopsPerDensity: here,
  };
}
const STEP = 0.02;

function stopsBy(rangeR: number, black: number): (density: number) => number {
  const curve = curveFrom({ baseDensity: 0, maximumDensity: black }, { speedP: 1000, rangeR });
  const [least, most] = [0.005, black - 0.005];
  return (density) => logExposureFor(curve, Math.min(most, Math.max(least, density))) / LOG10_OF_STOP;
}

/**
 * The ISO range of a paper that `stops` of light take from one density above white to another, by the curve that previews take
 * for every paper: to compare with what is known of the paper, since two sheets alone do not tell how much light lies between them.
 */
export function rangeBetween(light: number, dark: number, stops: number): number {
  const stopsOf = stopsBy(100, ASSUMED_BLACK);
  return (100 * stops) / (stopsOf(dark) - stopsOf(light));
}

/** What of a slope two sheets do not tell: flare, a scanner that drifts between two scans. */
const TWO_SCANS_SHARE = 0.04;
/** How fast stops for a density can change along the curve, one deviation, in stops per density squared. */
const USUAL_BEND = 1;
/** Cells that tell something of their own, and what one of them is off by, in stops. */
const OWN_CELLS = 20;
const CELL_STOPS = 0.02;
const [FLATTEST, STEEPEST] = [0.12, 2];

/**
 * By a second sheet that had `stops` more light: no paper's curve is supposed, and the scanner's tone curve falls out.
 * Along the curve a straight line and a bend are found by which the two lie `stops` apart everywhere.
 * @throws SurveyRefused where the second is not darker by as much as any paper would make it
 */
export function stopsByDarker(light: Float64Array, dark: Float64Array, stops: number): StopsOfGrey {
  const from = light.reduce((sum, value) => sum + value, 0) / light.length;
  const mean = (dark.reduce((sum, value) => sum + value, 0) / dark.length - from) / stops;
  if (!(mean > FLATTEST && mean < STEEPEST)) throw new SurveyRefused('not-darker');
  const rows = [
    [0, 0, 0],
    [0, 1 / USUAL_BEND ** 2, 0],
  ];
  const weight = OWN_CELLS / light.length / CELL_STOPS ** 2;
  for (let at = 0; at < light.length; at++) {
    const [one, other] = [light[at]! - from, dark[at]! - from];
    const factors = [other - one, other * other - one * one];
    for (const [row, factor] of factors.entries())
      for (const [column, value] of [...factors, stops].entries())
        rows[row]![column]! += weight * factor * value;
  }
  const [straight, bend] = solved(rows) as [number, number];
  return {
    stopsOf: (density) => straight * (density - from) + bend * (density - from) ** 2,
    share: Math.hypot((Math.SQRT2 * errorBudgets.flatbed.doseStops) / stops, TWO_SCANS_SHARE),
    stopsPerDensity: 1 / mean,
  };
}
