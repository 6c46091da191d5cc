import { type EaselTie, easelLog, type FilmTones, usualEasel } from '../../light/film-light.js';
import { isoPoints } from '../../paper/iso-6846.js';
import type { ErrorBudget } from '../error-budget.js';
import { MonotoneCurve, pooled } from '../monotone-curve.js';
import {
  DEVIATIONS,
  type Interval,
  LOG10_OF_STOP,
  type ReadPatch,
  type StripFigures,
  stripFigures,
} from '../strip-figures.js';
import { fitEasel, type Supposed } from './easel-fit.js';
import {
  type CellsRead,
  PATCH_DENSITY,
  PATCH_SHARE_OF_MISS,
  type Shift,
  shiftsOfEasel,
  shiftsOfStrip,
} from './supposed-errors.js';
import type { ToneCell } from './tone-cells.js';
import type { ToneSample } from './tone-curve.js';

/** What a strip and its negative's scan tell together. */
export interface FiguresByNegative extends StripFigures {
  readonly contrast: Interval;
  readonly flareShare: Interval;
  readonly tie: EaselTie;
  /** For 0.60 above white with film as thin as `pivotLog`, where it is known best. */
  readonly pivotLog: number;
  readonly pivot: Interval | undefined;
  readonly film: FilmTones;
}

/**
 * All figures, each with its interval: of the curve through all places, by the curves that papers may have and a device that errs as its
 * budget says, and what one deviation of every error would shift, the whole fit made anew, added in squares. What patches and places are
 * off by is in the curve's own interval where it is known best; of these only what they shift from there to another place is added.
 */
export function figuresByNegative(read: CellsRead, tone: number, budget: ErrorBudget): FiguresByNegative {
  const first = fitted(read, usualEasel, undefined);
  const anew = ({ read: shifted, supposed }: Shift) => fitted(shifted, supposed, first);
  const easelShifts = shiftsOfEasel(read).map(anew);
  const stripShifts = shiftsOfStrip(read, budget, first.miss).map(anew);
  const shifts = [...stripShifts, ...easelShifts];
  const patches = patchesOfCurve(first);
  const onPaper = stripFigures(patches, tone, budget);
  const pivotOnPaper = stripFigures(patches, isoPoints.speedNetDensity, budget).base;
  const pivotLog = pivotOf(read.cells);
  const forPlace = (figure: Interval | undefined, filmLog: number) => {
    const apart = (fit: Fitted) => (fit.lightLog(filmLog) - fit.lightLog(pivotLog)) / LOG10_OF_STOP;
    const turns = stripShifts.map((shifted) => apart(shifted) - apart(first));
    return figure && lightForPlace(figure, filmLog, first, easelShifts, turns);
  };
  const byShifts = (of: (figures: Fitted) => number) => {
    const value = of(first);
    return intervalOf(value, Math.hypot(...shifts.map((shifted) => of(shifted) - value)));
  };
  return {
    base: drawnIn(forPlace(onPaper.base, read.spotLog)),
    white: forPlace(onPaper.white, read.spotLog),
    black: forPlace(onPaper.black, read.spotLog),
    isoR: onPaper.isoR && rangeOf(onPaper.isoR, first, easelShifts),
    typicalMiss: first.miss,
    contrast: byShifts(({ tie }) => tie.contrast),
    flareShare: byShifts(({ tie }) => tie.flareShare),
    tie: first.tie,
    pivotLog,
    pivot: drawnIn(forPlace(pivotOnPaper, pivotLog)),
    film: read.film,
  };
}

/** A tie of film to light, and the curve that it makes of the strip's places: tones as the device saw them. */
interface Fitted {
  readonly tie: EaselTie;
  readonly miss: number;
  readonly samples: readonly ToneSample[];
  readonly curve: MonotoneCurve;
  /** log10 of the light at the easel. */
  readonly lightLog: (filmLog: number) => number;
}

const CURVE_STEP = 0.05;

function fitted({ cells, doseLogs, film }: CellsRead, supposed: Supposed, like: Fitted | undefined): Fitted {
  const { tie, curve, samples, miss } = fitEasel(cells, doseLogs, film, supposed, like?.tie);
  const count = Math.max(4, Math.ceil((curve.toLog - curve.fromLog) / CURVE_STEP));
  const logs = Array.from(
    { length: count + 1 },
    (_, at) => curve.fromLog + ((curve.toLog - curve.fromLog) * at) / count,
  );
  const densities = pooled(logs.map((log) => curve.at(log)));
  return {
    tie,
    miss,
    samples,
    curve: new MonotoneCurve(logs.map((x, at) => ({ x, y: densities[at]! }))),
    lightLog: easelLog(tie, film),
  };
}

/** Patches half a stop apart, as a strip in flat light would have them: where there are places enough to tell. */
function patchesOfCurve({ samples, curve, miss }: Fitted): ReadPatch[] {
  const total = samples.reduce((sum, { weight }) => sum + weight, 0);
  const sorted = [...samples].sort((one, other) => one.log - other.log);
  const logAt = (share: number) => {
    let sum = 0;
    return sorted.find(({ weight }) => {
      sum += weight;
      return sum >= share * total;
    })!.log;
  };
  const [from, to] = [logAt(RARE_SHARE), logAt(1 - RARE_SHARE)];
  const count = Math.max(2, Math.round((to - from) / PATCH_LOG));
  return Array.from({ length: count + 1 }, (_, at) => {
    const log = from + ((to - from) * at) / count;
    return {
      stops: log / LOG10_OF_STOP,
      density: curve.at(log),
      noise: Math.hypot(PATCH_DENSITY, PATCH_SHARE_OF_MISS * miss),
    };
  });
}
const PATCH_LOG = 0.15;
const RARE_SHARE = 0.01;

/**
 * The dose that gives a place of the film the light that a tone needs: off as that light is, and as film and light are tied.
 * @param turns what else the place may be off by, in stops.
 */
function lightForPlace(
  needed: Interval,
  filmLog: number,
  first: Fitted,
  shifts: readonly Fitted[],
  turns: readonly number[],
): Interval {
  const density = first.curve.at(needed.value * LOG10_OF_STOP);
  const doseFor = ({ curve, lightLog }: Fitted) => {
    const log = curve.reaches(density);
    return log === undefined ? undefined : (log - lightLog(filmLog)) / LOG10_OF_STOP;
  };
  const here = doseFor(first);
  const misses = shifts.map((shifted) => {
    const there = doseFor(shifted);
    return here === undefined || there === undefined ? LOST_STOPS : there - here;
  });
  const filmStops = first.lightLog(filmLog) / LOG10_OF_STOP;
  return widened(needed, Math.hypot(...misses, ...turns), (stops) => stops - filmStops);
}
/** A tone that an error would take off the strip is known badly. */
const LOST_STOPS = 0.25;

/** Light that is tied otherwise draws the curve out, or together. */
function rangeOf(isoR: Interval, first: Fitted, shifts: readonly Fitted[]): Interval {
  const misses = shifts.map((shifted) => drawnOut(first.curve, shifted.curve));
  const lnRange = { value: Math.log(isoR.value), low: Math.log(isoR.low), high: Math.log(isoR.high) };
  return widened(lnRange, Math.hypot(...misses), Math.exp);
}

/** Between tones that both have, since an error may take the strip's end tones off it; natural logarithm. */
function drawnOut(from: MonotoneCurve, to: MonotoneCurve): number {
  const lowest = Math.max(from.points[0]!.y, to.points[0]!.y);
  const highest = Math.min(from.points.at(-1)!.y, to.points.at(-1)!.y);
  const ends = [0.1, 0.9].map((share) => lowest + share * (highest - lowest));
  const spanOf = (curve: MonotoneCurve) => {
    const [start, end] = ends.map((density) => curve.reaches(density));
    return start === undefined || end === undefined ? undefined : end - start;
  };
  const [before, after] = [spanOf(from), spanOf(to)];
  return before === undefined || after === undefined ? LOST_RANGE : Math.log(after / before);
}
/** The same of a range: a quarter stop at either end of three and a half. */
const LOST_RANGE = 0.1;

/** A picture's middle tone is of many places, and better known than a patch: of intervals as for patches 99 of 100 held the base. */
const DRAWN_IN = 0.87;

function drawnIn(figure: Interval | undefined): Interval | undefined {
  if (figure === undefined) return undefined;
  const { value, low, high } = figure;
  return { value, low: value - DRAWN_IN * (value - low), high: value + DRAWN_IN * (high - value) };
}

/** With what else it may be off by, one standard deviation. */
function widened(figure: Interval, deviation: number, to: (value: number) => number): Interval {
  const { value, low, high } = figure;
  const more = DEVIATIONS * deviation;
  return {
    value: to(value),
    low: to(value - Math.hypot(value - low, more)),
    high: to(value + Math.hypot(high - value, more)),
  };
}

function intervalOf(value: number, deviation: number): Interval {
  return { value, low: value - DEVIATIONS * deviation, high: value + DEVIATIONS * deviation };
}

/** The film whose tones lay about 0.60: there the strip itself says how much light that takes. */
function pivotOf(cells: readonly ToneCell[]): number {
  const near = cells.map(
    ({ density, weight }) => weight * Math.exp(-(((density - isoPoints.speedNetDensity) / 0.25) ** 2)),
  );
  const total = near.reduce((sum, each) => sum + each, 0);
  return cells.reduce((sum, { filmLog }, at) => sum + filmLog * near[at]!, 0) / total;
}
