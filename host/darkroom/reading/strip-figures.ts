import { isoPoints } from '../paper/iso-6846.js';
import type { ErrorBudget } from './error-budget.js';
import { MonotoneCurve, pooled } from './monotone-curve.js';
import { type FitReading, fitPaper, nearlyBlack, rangeByShapes } from './paper-fit.js';

/** A figure and the ends between which it lies in 95 of 100 cases. */
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

/** Above white, of a glossy paper: assumed, since few strips show it. */
export const ASSUMED_BLACK = 2.05;
export const ASSUMED_BLACK_SPREAD = 0.1;
/** 95 of 100 of a normal distribution. */
export const DEVIATIONS = 1.96;
export const LOG10_OF_STOP = Math.log10(2);

/** Exposures for tones and the paper's range, each with its interval: what each error of the budget would shift, added in squares. */
export function stripFigures(patches: readonly ReadPatch[], tone: number, budget: ErrorBudget): StripFigures {
  const seen = patches.map((patch) => ({
    ...patch,
    density: withoutFlare(patch.density, budget.flareShare),
  }));
  const black = blackOf(seen);
  const { typicalMiss } = fitPaper(seen.map(readingBy(budget)), black);
  const misfit = Math.max(0, typicalMiss - USUAL_MISS);
  const steady = seen.map((patch) => ({ ...patch, noise: Math.hypot(patch.noise, misfit) }));
  const errors = errorsOf(steady, budget);
  const figure = (density: number) =>
    intervalOf(steady, errors, (some) => stopsAt(some, density), betweenPatches(steady, density));
  return {
    base: figure(tone),
    white: figure(isoPoints.lowestNetDensity),
    black: figure(nearlyBlack(black)),
    isoR: coversRange(steady, black) ? rangeInterval(steady, errors, black, budget) : undefined,
    typicalMiss,
  };
}

/** Strips that lie further from any paper's curve than is usual are believed less. */
export const USUAL_MISS = 0.012;

/** Of black, stray light that is not as usual takes the most. */
export function readingBy(budget: ErrorBudget) {
  return ({ stops, density }: ReadPatch): FitReading => {
    const byFlare = (budget.flareSpread * 10 ** density) / Math.LN10;
    const doubt = Math.hypot(LEAST_DOUBT, byFlare, budget.gammaShare * density);
    return { logExposure: stops * LOG10_OF_STOP, density, doubt };
  };
}
const LEAST_DOUBT = 0.015;

/** Stray light lies over white and black alike: (r + f) / (1 + f) is seen of a share r. */
export function withoutFlare(density: number, flare: number): number {
  const share = 10 ** -density * (1 + flare) - flare;
  return -Math.log10(Math.max(share, LEAST_SHARE));
}
const LEAST_SHARE = 10 ** -2.4;

export function stopsAt(patches: readonly ReadPatch[], density: number): number | undefined {
  return curveOf(patches).reaches(density);
}

function curveOf(patches: readonly ReadPatch[]): MonotoneCurve {
  const densities = pooled(patches.map((patch) => patch.density));
  return new MonotoneCurve(patches.map(({ stops }, at) => ({ x: stops, y: densities[at]! })));
}

/** All patches as one error of the budget, two standard deviations of it, would have shown them, to either side or to one. */
type Shifted = readonly (readonly ReadPatch[])[];

/** Near the ends of the interval, since errors do not add up evenly. */
const SHIFT = 2;

function errorsOf(patches: readonly ReadPatch[], budget: ErrorBudget): Shifted[] {
  const all = (shift: (density: number, side: number) => number) =>
    [1, -1].map((side) => patches.map((patch) => ({ ...patch, density: shift(patch.density, side) })));
  const oneByOne = patches.flatMap((_, at) => [
    [
      patches.map((patch, each) =>
        each === at
          ? { ...patch, density: patch.density + SHIFT * Math.hypot(budget.evennessDensity, patch.noise) }
          : patch,
      ),
    ],
    [
      patches.map((patch, each) =>
        each === at ? { ...patch, stops: patch.stops + SHIFT * budget.doseStops } : patch,
      ),
    ],
  ]);
  return [
    all((density, side) => density / (1 + side * SHIFT * budget.gammaShare)),
    all((density, side) => withoutFlare(density, side * SHIFT * budget.flareSpread)),
    all((density, side) => density + side * SHIFT * budget.evennessDensity),
    ...oneByOne,
  ];
}

/**
 * What the curve may be off by between the two patches about a density, by trials with curves of many shapes: more the further
 * they lie apart in light and in density, and at the strip's ends, where one neighbour is missing.
 */
export function betweenPatches(
  patches: readonly ReadPatch[],
  density: number = isoPoints.speedNetDensity,
): number {
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
const BETWEEN_SHARE = 0.02;
const BETWEEN_JUMP_SHARE = 0.05;

function intervalOf(
  patches: readonly ReadPatch[],
  errors: readonly Shifted[],
  of: (patches: readonly ReadPatch[]) => number | undefined,
  own: number,
): Interval | undefined {
  const value = of(patches);
  if (value === undefined) return undefined;
  const shifts = errors.map((sides) =>
    sides.map((side) => ((of(side) ?? value + LOST_STOPS) - value) / SHIFT),
  );
  return intervalAbout(value, own, shifts);
}

/** In a toe the same error takes a tone further down than up: each side has its own deviation. */
function intervalAbout(value: number, own: number, shifts: readonly (readonly number[])[]): Interval {
  const onOneSide = shifts.map((sides) => (sides.length > 1 ? sides : [sides[0]!, -sides[0]!]));
  const [down, up] = [Math.min, Math.max].map((furthest) =>
    Math.hypot(own, ...onOneSide.map((sides) => furthest(0, ...sides))),
  ) as [number, number];
  return { value, low: value - DEVIATIONS * down, high: value + DEVIATIONS * up };
}
/** A tone that an error would take off the strip is known badly. */
const LOST_STOPS = 0.5;

/** The range by the standard's points needs a strip that reaches from near white to near black. */
export function coversRange(patches: readonly ReadPatch[], black: number): boolean {
  const inside = patches.filter(({ density }) => density > 0.03 && density < 0.93 * black).length;
  return patches[0]!.density < 0.35 && patches.at(-1)!.density > 0.6 * black && inside >= 3;
}

function rangeInterval(
  patches: readonly ReadPatch[],
  errors: readonly Shifted[],
  black: number,
  budget: ErrorBudget,
): Interval {
  const rangeOf = (some: readonly ReadPatch[], deepest: number) =>
    fitPaper(some.map(readingBy(budget)), deepest).rangeR;
  const own = rangeOf(patches, black);
  const byBlack = rangeOf(patches, black + ASSUMED_BLACK_SPREAD) - own;
  const shifts = errors.map((sides) => (rangeOf(sides[0]!, black) - own) / SHIFT);
  const { rangeR: value, deviation: byShape } = rangeByShapes(patches.map(readingForShape(budget)), black);
  const shape = Math.hypot(byShape, SHAPE_SHARE * value);
  const deviation = Math.hypot(byBlack, shape, ...shifts);
  return { value, low: value - DEVIATIONS * deviation, high: value + DEVIATIONS * deviation };
}
/** Papers' curves differ in shape from all that are fitted. */
export const SHAPE_SHARE = 0.035;

/** What all patches have in common says nothing of the shape. */
function readingForShape(budget: ErrorBudget) {
  return ({ stops, density, noise }: ReadPatch): FitReading => {
    const byFlare = (budget.flareSpread * 10 ** density) / Math.LN10;
    const doubt = Math.hypot(LEAST_SHAPE_DOUBT, noise, byFlare, COMMON_GAMMA * budget.gammaShare * density);
    return { logExposure: stops * LOG10_OF_STOP, density, doubt };
  };
}
const LEAST_SHAPE_DOUBT = 0.012;
const COMMON_GAMMA = 0.3;

/** Two last patches alike and dark are the black itself. */
export function blackOf(patches: readonly ReadPatch[]): number {
  const [before, last] = [patches.at(-2)!.density, patches.at(-1)!.density];
  const isReached = last > 1.4 && last - before < 0.03;
  return isReached ? (before + last) / 2 : Math.max(ASSUMED_BLACK, last + 0.02);
}
