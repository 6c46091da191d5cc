import { isoPoints } from '../paper/iso-6846.js';
import { ASSUMED_BLACK } from './assumed-black.js';
import type { ErrorBudget } from './error-budget.js';
import { MonotoneCurve, pooled } from './monotone-curve.js';
import { type FitReading, fitPaper, nearlyBlack } from './paper-fit.js';
import type { SeenPatch } from './shape-fit.js';
import { type JoinedFigure, ShapeFits } from './shape-fits.js';
import { withoutFlare } from './stray-light.js';

/** A figure and the ends between which it lies in 95 of 100 cases; they need not lie as far to either side. */
export interface Interval {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

export interface ReadPatch {
  /** log2 of the exposure in milliseconds. */
  readonly stops: number;
  readonly density: number;
  /** One standard deviation of what it alone may be off by, from its own pixels. */
  readonly noise: number;
}

/** In log2 of milliseconds; undefined what does not lie on the strip. */
export interface StripFigures {
  readonly base: Interval | undefined;
  /** The lightest tone that is not paper white, and 90 % of the deepest black: ISO 6846's T and S. */
  readonly white: Interval | undefined;
  readonly black: Interval | undefined;
  readonly isoR: Interval | undefined;
  readonly typicalMiss: number;
}

/** 95 of 100 of a normal distribution. */
export const DEVIATIONS = 1.96;
export const LOG10_OF_STOP = Math.log10(2);

/** Exposures for tones and the paper's range, each with its interval, by curves of all shapes that papers may have. */
export function stripFigures(patches: readonly ReadPatch[], tone: number, budget: ErrorBudget): StripFigures {
  const seen = patches.map((patch) => ({
    ...patch,
    density: withoutFlare(patch.density, budget.flareShare),
  }));
  const black = blackOf(seen);
  const { typicalMiss, logSpeedExposure } = fitPaper(seen.map(readingBy(budget)), black);
  const strip = {
    patches: patches.map((_, at) => seenPatch(patches, at, budget)),
    blackDensity: blackBefore(seen, budget),
    budget,
  };
  const fits = new ShapeFits(strip, logSpeedExposure);
  const figure = (density: number, toneOf = (_black: number) => density) =>
    reaches(seen, density)
      ? inStops(
          fits.figure((fit) => fit.logFor(toneOf)),
          betweenPatches(seen, density),
        )
      : undefined;
  const lnRange = coversRange(seen, black) ? fits.figure((fit) => fit.lnRange) : undefined;
  return {
    base: figure(tone),
    white: figure(isoPoints.lowestNetDensity),
    black: figure(nearlyBlack(black), nearlyBlack),
    isoR: lnRange && intervalOf(lnRange, Math.exp),
    typicalMiss,
  };
}

/** By its pixels, by uneven light, and by its dose where the curve is steep. */
function seenPatch(patches: readonly ReadPatch[], at: number, budget: ErrorBudget): SeenPatch {
  const { stops, density, noise } = patches[at]!;
  const [from, to] = [patches[Math.max(0, at - 1)]!, patches[Math.min(patches.length - 1, at + 1)]!];
  const byDose = (budget.doseStops * (to.density - from.density)) / (to.stops - from.stops);
  const doubt = Math.hypot(noise, budget.evennessDensity, CURVE_DOUBT, byDose);
  return { logExposure: stops * LOG10_OF_STOP, density, doubt };
}
/** No paper's curve is quite any of those that are fitted, by so much in density; no source. */
const CURVE_DOUBT = 0.003;

/** The black of a glossy paper, but where two last patches show another. */
function blackBefore(seen: readonly ReadPatch[], budget: ErrorBudget): number {
  const shown = blackOf(seen);
  const { doubt } = readingBy(budget)(seen.at(-1)!);
  return shown < ASSUMED_BLACK - MOST_DOUBTS * doubt ? shown : ASSUMED_BLACK;
}
const MOST_DOUBTS = 3;

function reaches(patches: readonly ReadPatch[], density: number): boolean {
  const densities = pooled(patches.map((patch) => patch.density));
  const curve = new MonotoneCurve(patches.map(({ stops }, at) => ({ x: stops, y: densities[at]! })));
  return curve.reaches(density) !== undefined;
}

/**
 * What a curve of a shape that is not among those fitted may be off by between the two patches about a density: more the further
 * they lie apart in light and in density, and at the strip's ends, where one neighbour is missing.
 */
function betweenPatches(patches: readonly ReadPatch[], density: number): number {
  const after = Math.max(
    1,
    patches.findIndex((patch) => patch.density > density),
  );
  const [from, to] = [patches[after - 1]!, patches[after]!];
  const stops = to.stops - from.stops;
  const atEnd = after === 1 || after === patches.length - 1 ? 2 : 1;
  const byJump = BETWEEN_JUMP_SHARE * atEnd * stops * Math.max(0, to.density - from.density);
  return Math.hypot(BETWEEN_SHARE * stops * stops, byJump);
}
const BETWEEN_SHARE = 0.01;
const BETWEEN_JUMP_SHARE = 0.033;

function inStops({ value, middle, deviation }: JoinedFigure, own: number): Interval {
  const stops = {
    value: value / LOG10_OF_STOP,
    middle: middle / LOG10_OF_STOP,
    deviation: Math.hypot(deviation / LOG10_OF_STOP, own),
  };
  return intervalOf(stops, (each) => each);
}

function intervalOf({ value, middle, deviation }: JoinedFigure, to: (value: number) => number): Interval {
  const [low, high] = [middle - DEVIATIONS * deviation, middle + DEVIATIONS * deviation];
  return { value: to(value), low: to(low), high: to(high) };
}

/** Of black, stray light that is not as usual takes the most. */
export function readingBy(budget: ErrorBudget) {
  return ({ stops, density }: ReadPatch): FitReading => {
    const byFlare = (budget.flareSpread * 10 ** density) / Math.LN10;
    const doubt = Math.hypot(LEAST_DOUBT, byFlare, budget.gammaShare * density);
    return { logExposure: stops * LOG10_OF_STOP, density, doubt };
  };
}
const LEAST_DOUBT = 0.015;

/** The range by the standard's points needs a strip that reaches from near white to near black. */
function coversRange(patches: readonly ReadPatch[], black: number): boolean {
  const inside = patches.filter(({ density }) => density > 0.03 && density < 0.93 * black).length;
  return patches[0]!.density < 0.35 && patches.at(-1)!.density > 0.6 * black && inside >= 3;
}

/** Two last patches alike and dark are the black itself. */
function blackOf(patches: readonly ReadPatch[]): number {
  const [before, last] = [patches.at(-2)!.density, patches.at(-1)!.density];
  const isReached = last > 1.4 && last - before < 0.03;
  return isReached ? (before + last) / 2 : Math.max(ASSUMED_BLACK, last + 0.02);
}
