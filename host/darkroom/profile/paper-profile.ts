import { errorBudgets } from '../reading/error-budget.js';
import { type Estimate, estimate } from '../reading/estimate.js';
import { withoutFlare } from '../reading/stray-light.js';
import { DEVIATIONS, type Interval, LOG10_OF_STOP } from '../reading/strip-figures.js';
import { bestStart } from './best-form.js';
import { type Outlier, sortOut } from './outliers.js';
import { paperProblem, unknownNames } from './paper-model.js';
import type { StartValues } from './start-values.js';
import { type NumberedStrip, type PaperReadingRow, stripsIn } from './strips.js';

/** A paper through one filter, each figure with its interval; undefined what its strips do not tell. */
export interface FilterProfile {
  readonly filter: string;
  /** ISO range, unrounded. */
  readonly rangeR: Interval | undefined;
  /** How much more light than through the reference filter gives 0.60 above white. */
  readonly factor: Interval | undefined;
  /** ISO speed, unrounded: where the light of the easel was measured. */
  readonly speedP: Interval | undefined;
  /** Numbers of the strips that it is from. */
  readonly strips: readonly number[];
}

export type StripState = 'taken' | 'left out by you' | 'outlier' | 'in doubt';

export interface ProfileStrip extends NumberedStrip {
  readonly state: StripState;
  /** Why it is an outlier or in doubt. */
  readonly outlier: Outlier | undefined;
  /** Its patches on the scale of the curves; empty where its light cannot be compared. */
  readonly points: readonly CurvePoint[];
}

/** An exposure in stops from the one that gives 0.60 through the reference filter, and the density above white. */
export interface CurvePoint {
  readonly stops: number;
  readonly density: number;
}

/** What is known of a paper in a developer. */
export interface PaperProfile {
  /** Counts what was said of it; each earlier one can be worked out again. */
  readonly version: number;
  readonly filters: readonly FilterProfile[];
  readonly referenceFilter: string;
  /** The deepest density above paper white. */
  readonly black: Interval & { readonly isMeasured: boolean };
  /** In stops, how much darker it dries; undefined without a strip that was scanned wet and dry. */
  readonly dryDownStops: Interval | undefined;
  readonly strips: readonly ProfileStrip[];
  /** What all of it is from, for curves with their intervals. */
  readonly estimate: Estimate;
}

/** No paper's curve is quite of the forms that are fitted: its range may be off by this share, however many strips there are; by trials. */
const FORM_DOUBT = 0.02;
const SPEED_OF_ONE_LUX_SECOND = 3;
/** What is known worse is not told: of the range as a share, of a factor and of speed in log10. */
const WORST = { range: 0.25, log: 0.3 } as const;

/**
 * The profile that follows from these rows; undefined where no strip is among them, or none is left in.
 * @param version how many of the rows count; all where left out.
 */
export function profileFrom(
  rows: readonly PaperReadingRow[],
  version = rows.length,
): PaperProfile | undefined {
  const { strips, leftOut } = stripsIn(rows.slice(0, version));
  const wanted = strips.filter(({ number }) => !leftOut.has(number));
  if (wanted.length === 0) return undefined;
  const begin = bestStart(wanted);
  const { taken, outliers } = sortOut(wanted, begin);
  const { fit, light } = fitted(taken, begin);
  const filters = [...new Set(taken.map(({ reading }) => reading.filter))].sort(inOrder);
  const referenceFilter = ['', '2'].find((each) => filters.includes(each)) ?? filters[0]!;
  const known: Known = { fit, referenceFilter, taken, outliers, isMetered: light === undefined };
  return {
    version,
    referenceFilter,
    filters: filters.map((filter) => filterProfile(filter, known)),
    black: { ...spreadAbout(fit, unknownNames.black, Math.exp), isMeasured: showsBlack(taken, fit) },
    dryDownStops: fit.has(unknownNames.dryDown)
      ? spreadAbout(fit, unknownNames.dryDown, (log) => log / Math.log10(2))
      : undefined,
    strips: strips.map((strip) => ({
      ...strip,
      ...stateOf(strip, leftOut, outliers),
      points: pointsOf(strip, known, light),
    })),
    estimate: fit,
  };
}

/** Once more with wider doubts where the patches scatter more than they should (R. T. Birge, Physical Review 40, 1932, from memory). */
function fitted(
  strips: readonly NumberedStrip[],
  begin: StartValues,
): { fit: Estimate; light: string | undefined } {
  const { unknowns, observations, light } = paperProblem(strips, undefined, begin);
  const first = estimate(unknowns, observations);
  if (first.scatter <= 1) return { fit: first, light };
  const wider = Math.sqrt(first.scatter);
  const doubted = observations.map((each) => ({ ...each, doubt: wider * each.doubt }));
  return { fit: estimate(unknowns, doubted), light };
}

interface Known {
  readonly fit: Estimate;
  readonly referenceFilter: string;
  readonly taken: readonly NumberedStrip[];
  readonly outliers: readonly Outlier[];
  readonly isMetered: boolean;
}

function spreadAbout(fit: Estimate, name: string, to: (value: number) => number): Interval {
  return intervalOf(fit.value(name), fit.deviation(new Map([[name, 1]])), to);
}

function intervalOf(value: number, deviation: number, to: (value: number) => number): Interval {
  const [one, other] = [to(value - DEVIATIONS * deviation), to(value + DEVIATIONS * deviation)];
  return { value: to(value), low: Math.min(one, other), high: Math.max(one, other) };
}

function filterProfile(filter: string, known: Known): FilterProfile {
  const { fit, referenceFilter, taken, isMetered } = known;
  const [range, speed] = [unknownNames.range(filter), unknownNames.speed(filter)];
  const rangeDeviation = Math.hypot(
    fit.deviation(new Map([[range, 1]])),
    FORM_DOUBT,
    doubtOf('range', filter, known),
  );
  const speedDoubt = LOG10_OF_STOP * doubtOf('speed', filter, known);
  const speedDeviation = Math.hypot(fit.deviation(new Map([[speed, 1]])), speedDoubt);
  return {
    filter,
    rangeR: rangeDeviation < WORST.range ? intervalOf(fit.value(range), rangeDeviation, Math.exp) : undefined,
    factor: factorOf(known, referenceFilter, filter),
    speedP:
      isMetered && speedDeviation < WORST.log
        ? intervalOf(fit.value(speed), speedDeviation, (log) => 10 ** (SPEED_OF_ONE_LUX_SECOND - log))
        : undefined,
    strips: taken.filter(({ reading }) => reading.filter === filter).map(({ number }) => number),
  };
}

/** How much more light one filter of the profile wants than another; what errs in both alike falls out of it. */
export function factorBetween(profile: PaperProfile, from: string, to: string): Interval | undefined {
  const outliers = profile.strips.flatMap(({ outlier }) => outlier ?? []);
  return factorOf({ fit: profile.estimate, outliers, taken: profile.strips }, from, to);
}

type KnownSpeeds = Pick<Known, 'fit' | 'outliers' | 'taken'>;

function factorOf(known: KnownSpeeds, from: string, to: string): Interval | undefined {
  const { fit } = known;
  const [one, other] = [unknownNames.speed(from), unknownNames.speed(to)];
  if (from === to) return { value: 1, low: 1, high: 1 };
  if (!fit.has(one) || !fit.has(other)) return undefined;
  const apart = new Map([
    [one, -1],
    [other, 1],
  ]);
  const doubt = Math.hypot(doubtOf('speed', from, known), doubtOf('speed', to, known));
  const deviation = Math.hypot(fit.deviation(apart), LOG10_OF_STOP * doubt);
  return deviation < WORST.log
    ? intervalOf(fit.value(other) - fit.value(one), deviation, (log) => 10 ** log)
    : undefined;
}

/** Two strips that disagree: either may be right, so half of what they differ by is one deviation. */
function doubtOf(what: Outlier['of'], filter: string, { outliers, taken }: KnownSpeeds): number {
  const [doubtful] = outliers.filter(({ of, isLeftOut }) => of === what && !isLeftOut);
  const strip = taken.find(({ number }) => number === doubtful?.number);
  return strip?.reading.filter === filter ? Math.abs(doubtful!.off) / 2 : 0;
}

/** Whether the deepest black was on a strip, so that it is not the assumed one. */
function showsBlack(strips: readonly NumberedStrip[], fit: Estimate): boolean {
  const black = Math.exp(fit.value(unknownNames.black));
  return strips.some(({ reading }) => Math.max(...densitiesOf(reading)) > NEARLY * black);
}
const NEARLY = 0.97;

function densitiesOf({ device, patches }: NumberedStrip['reading']): number[] {
  return patches.map(({ density }) => withoutFlare(density, errorBudgets[device].flareShare));
}

function pointsOf(
  { number, reading }: NumberedStrip,
  { fit, referenceFilter }: Known,
  light: string | undefined,
): CurvePoint[] {
  const { lux, patches } = reading;
  const name = unknownNames.light(reading.light);
  const isKnown = lux !== undefined || reading.light === light || fit.has(name);
  if (!isKnown) return [];
  const own = lux !== undefined ? Math.log10(lux / 1000) : reading.light === light ? 0 : fit.value(name);
  const reference = fit.value(unknownNames.speed(referenceFilter));
  return patches.map(({ doseMs, density }) => ({
    stops: (Math.log10(doseMs) + own - reference) / Math.log10(2),
    density: withoutErrors(fit, { number, reading }, density),
  }));
}

/** The density as the scanner would have shown it without what the fit says of its tone curve, its stray light and its white. */
function withoutErrors(
  fit: Estimate,
  { number, reading }: Pick<NumberedStrip, 'number' | 'reading'>,
  density: number,
): number {
  const valueOr = (name: string, usual: number) => (fit.has(name) ? fit.value(name) : usual);
  const { device } = reading;
  const white = valueOr(unknownNames.white(`${number}`), 0);
  const tone = valueOr(unknownNames.tone(device), 1);
  const stray = valueOr(unknownNames.stray(device), errorBudgets[device].flareShare);
  return withoutFlare((density - white) / tone, stray);
}

function stateOf(
  { number }: NumberedStrip,
  leftOut: ReadonlySet<number>,
  outliers: readonly Outlier[],
): Pick<ProfileStrip, 'state' | 'outlier'> {
  if (leftOut.has(number)) return { state: 'left out by you', outlier: undefined };
  const outlier = outliers.find((each) => each.number === number);
  if (outlier === undefined) return { state: 'taken', outlier };
  return { state: outlier.isLeftOut ? 'outlier' : 'in doubt', outlier };
}

/** No filter first, then by their numbers. */
function inOrder(one: string, other: string): number {
  return orderOf(one) - orderOf(other) || (one < other ? -1 : 1);
}

function orderOf(filter: string): number {
  const [, whole = '', half] = /^(\d+)?( ?1\/2)?$/.exec(filter) ?? [];
  if (filter === '') return -2;
  if (filter === '00') return -1;
  return whole === '' && half === undefined ? 99 : Number(whole) + (half === undefined ? 0 : 0.5);
}
