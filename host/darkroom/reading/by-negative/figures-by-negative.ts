import { type EaselTie, easelLog, type FilmTones, usualEasel } from '../../light/film-light.js';
import { isoPoints } from '../../paper/iso-6846.js';
import { ASSUMED_BLACK_SPREAD } from '../assumed-black.js';
import type { ErrorBudget } from '../error-budget.js';
import { MonotoneCurve, pooled } from '../monotone-curve.js';
import { fitPaper, nearlyBlack } from '../paper-fit.js';
import { withoutFlare } from '../stray-light.js';
import {
  blackOf,
  DEVIATIONS,
  type Interval,
  LOG10_OF_STOP,
  type ReadPatch,
  readingBy,
  type StripFigures,
} from '../strip-figures.js';
import { fitEasel, type Supposed } from './easel-fit.js';
import type { ToneCell } from './tone-cells.js';

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

export interface CellsRead {
  readonly cells: readonly ToneCell[];
  readonly doseLogs: readonly number[];
  readonly film: FilmTones;
  /** log10 of the transmittance of the place that the base is for. */
  readonly spotLog: number;
}

/** All figures, each with its interval: what one deviation of every error would shift, the whole fit made anew, added in squares. */
export function figuresByNegative(read: CellsRead, tone: number, budget: ErrorBudget): FiguresByNegative {
  const seen = {
    ...read,
    cells: withTones(read.cells, (density) => withoutFlare(density, budget.flareShare)),
  };
  const first = fittedFigures(seen, usualEasel, undefined, tone, budget);
  const shifts = shiftsOf(seen, budget, first.miss).map(({ read: shifted, supposed }) =>
    fittedFigures(shifted, supposed, first, tone, budget),
  );
  const interval = (of: (figures: Fitted) => number | undefined, own = 0) =>
    intervalOf(first, shifts, of, own);
  const rangeOwn = Math.hypot(SHAPE_SHARE * (first.isoR ?? 0), first.isoRByBlack ?? 0);
  return {
    base: interval(({ base }) => base, budget.pictureStops),
    white: interval(({ white }) => white, budget.pictureStops),
    black: interval(({ black }) => black, budget.pictureStops),
    isoR: interval(({ isoR }) => isoR, rangeOwn),
    typicalMiss: first.miss,
    contrast: interval(({ tie }) => tie.contrast)!,
    flareShare: interval(({ tie }) => tie.flareShare)!,
    tie: first.tie,
    pivotLog: first.pivotLog,
    pivot: interval(({ pivot }) => pivot, budget.pictureStops),
    film: read.film,
  };
}

/** Papers' curves differ in shape from the one that is fitted. */
const SHAPE_SHARE = 0.035;

interface Fitted {
  readonly tie: EaselTie;
  readonly miss: number;
  readonly base: number | undefined;
  readonly white: number | undefined;
  readonly black: number | undefined;
  readonly isoR: number | undefined;
  readonly isoRByBlack: number | undefined;
  readonly pivotLog: number;
  readonly pivot: number | undefined;
}

const CURVE_STEP = 0.05;

function fittedFigures(
  { cells, doseLogs, film, spotLog }: CellsRead,
  supposed: Supposed,
  like: Fitted | undefined,
  tone: number,
  budget: ErrorBudget,
): Fitted {
  const fit = fitEasel(cells, doseLogs, film, supposed, like?.tie);
  const lightLog = easelLog(fit.tie, film);
  const count = Math.max(4, Math.ceil((fit.curve.toLog - fit.curve.fromLog) / CURVE_STEP));
  const logs = Array.from(
    { length: count + 1 },
    (_, at) => fit.curve.fromLog + ((fit.curve.toLog - fit.curve.fromLog) * at) / count,
  );
  const densities = pooled(logs.map((log) => fit.curve.at(log)));
  const curve = new MonotoneCurve(logs.map((x, at) => ({ x, y: densities[at]! })));
  const patches: ReadPatch[] = logs.map((log, at) => ({
    stops: log / LOG10_OF_STOP,
    density: densities[at]!,
    noise: 0,
  }));
  const black = blackOf(patches);
  const stopsFor = (density: number, filmLog: number) => {
    const log = curve.reaches(density);
    return log === undefined ? undefined : (log - lightLog(filmLog)) / LOG10_OF_STOP;
  };
  const pivotLog = like?.pivotLog ?? pivotOf(cells);
  const covers = densities[0]! < 0.2 && densities.at(-1)! > 0.6 * black;
  const rangeOf = (deepest: number) => fitPaper(patches.map(readingBy(budget)), deepest).rangeR;
  const isoR = covers ? rangeOf(black) : undefined;
  const isoRByBlack =
    covers && like === undefined ? rangeOf(black + ASSUMED_BLACK_SPREAD) - isoR! : undefined;
  return {
    tie: fit.tie,
    miss: fit.miss,
    base: stopsFor(tone, spotLog),
    white: stopsFor(isoPoints.lowestNetDensity, spotLog),
    black: stopsFor(nearlyBlack(black), spotLog),
    isoR,
    isoRByBlack,
    pivotLog,
    pivot: stopsFor(isoPoints.speedNetDensity, pivotLog),
  };
}

/** The film whose tones lay about 0.60: there the strip itself says how much light that takes. */
function pivotOf(cells: readonly ToneCell[]): number {
  const near = cells.map(
    ({ density, weight }) => weight * Math.exp(-(((density - isoPoints.speedNetDensity) / 0.25) ** 2)),
  );
  const total = near.reduce((sum, each) => sum + each, 0);
  return cells.reduce((sum, { filmLog }, at) => sum + filmLog * near[at]!, 0) / total;
}

function withTones(cells: readonly ToneCell[], tone: (density: number) => number): ToneCell[] {
  return cells.map((cell) => ({ ...cell, density: tone(cell.density) }));
}

interface Shift {
  readonly read: CellsRead;
  readonly supposed: Supposed;
}

/** All as one error, one standard deviation of it, would have shown it. */
function shiftsOf(read: CellsRead, budget: ErrorBudget, miss: number): Shift[] {
  const patchDensity = Math.hypot(PATCH_DENSITY, PATCH_SHARE_OF_MISS * miss, budget.evennessDensity);
  const { cells, doseLogs } = read;
  const toned = (tone: (density: number) => number): Shift => ({
    read: { ...read, cells: withTones(cells, tone) },
    supposed: usualEasel,
  });
  const byPatch = doseLogs.flatMap((_, patch): Shift[] => [
    {
      read: {
        ...read,
        cells: cells.map((cell) =>
          cell.patch === patch ? { ...cell, density: cell.density + patchDensity } : cell,
        ),
      },
      supposed: usualEasel,
    },
    {
      read: {
        ...read,
        doseLogs: doseLogs.map((log, at) => (at === patch ? log + budget.doseStops * LOG10_OF_STOP : log)),
      },
      supposed: usualEasel,
    },
  ]);
  const byNoise = [1, 2].map(
    (turn): Shift => ({
      read: {
        ...read,
        cells: cells.map((cell, at) => ({ ...cell, density: cell.density + signOf(at, turn) * cell.noise })),
      },
      supposed: usualEasel,
    }),
  );
  return [
    toned((density) => density * (1 + budget.gammaShare)),
    toned((density) => withoutFlare(density, budget.flareSpread)),
    toned((density) => density + budget.evennessDensity),
    ...byPatch,
    ...byNoise,
    { read, supposed: { ...usualEasel, contrast: usualEasel.contrast + usualEasel.contrastSpread } },
    { read, supposed: { ...usualEasel, flareShare: usualEasel.flareShare + usualEasel.flareSpread } },
  ];
}
/** What the tones of one patch lie off by together, in density: uneven light, and a little of its neighbours. */
const PATCH_DENSITY = 0.004;
const PATCH_SHARE_OF_MISS = 0.6;

/** Up and down as by lot, the same for every strip. */
function signOf(at: number, turn: number): number {
  return Math.imul(at + 1, 0x9e3779b1 * turn) & 0x10000 ? 1 : -1;
}

/** A tone that an error would take off the strip is known badly. */
const LOST_SHARE = 0.25;

function intervalOf(
  first: Fitted,
  shifts: readonly Fitted[],
  of: (figures: Fitted) => number | undefined,
  own: number,
): Interval | undefined {
  const value = of(first);
  if (value === undefined) return undefined;
  const deviation = Math.hypot(own, ...shifts.map((shifted) => (of(shifted) ?? value + LOST_SHARE) - value));
  return { value, low: value - DEVIATIONS * deviation, high: value + DEVIATIONS * deviation };
}
