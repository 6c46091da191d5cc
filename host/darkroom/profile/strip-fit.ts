import { isoPoints } from '../paper/iso-6846.js';
import { errorBudgets } from '../reading/error-budget.js';
import { fitPaper, type PaperFit } from '../reading/paper-fit.js';
import {
  ASSUMED_BLACK,
  ASSUMED_BLACK_SPREAD,
  betweenPatches,
  coversRange,
  type ReadPatch,
  readingBy,
  SHAPE_SHARE,
  stopsAt,
  USUAL_MISS,
  withoutFlare,
} from '../reading/strip-figures.js';
import { type Doubted, sumOf } from './doubted.js';
import type { KeptStripReading } from './kept-reading.js';

/** A strip in a paper's profile: its number there and what was read of it. */
export interface NumberedStrip {
  readonly number: number;
  readonly keptMs: number;
  readonly reading: KeptStripReading;
}

/** What one strip says of its paper through one filter. */
export interface StripFit {
  readonly strip: NumberedStrip;
  /** Undefined where it does not reach from near white to near black. */
  readonly rangeR: Doubted | undefined;
  /** log10 of the milliseconds of its own light for 0.60 above white; undefined where that is not on it. */
  readonly logSpeedMs: Doubted | undefined;
}

/** Errors of one strip alone begin so; all others are shared with the strips of the same scanner, paper or tablet. */
export const isOwn = (name: string): boolean => name.startsWith('strip ');

/** The patches without the scanner's usual stray light. */
export function patchesOf({ device }: KeptStripReading, patches: KeptStripReading['patches']): ReadPatch[] {
  const { flareShare } = errorBudgets[device];
  return patches.map(({ doseMs, density, noise }) => ({
    stops: Math.log2(doseMs),
    density: withoutFlare(density, flareShare),
    noise,
  }));
}

/** A strip's patches as each error would have shown them, by the error's name. */
export type Shown = ReadonlyMap<string, readonly ReadPatch[]>;

/** @param scan tells two scans of one strip apart. */
export function errorsOf(
  { number, reading }: NumberedStrip,
  patches: readonly ReadPatch[],
  scan = '',
): Map<string, readonly ReadPatch[]> {
  const { device, wedge } = reading;
  const budget = errorBudgets[device];
  const all = (of: (density: number) => number) =>
    patches.map((patch) => ({ ...patch, density: of(patch.density) }));
  const one = (at: number, of: (patch: ReadPatch) => ReadPatch) =>
    patches.map((patch, each) => (each === at ? of(patch) : patch));
  const steps = patches.flatMap((_, at): [string, ReadPatch[]][] => [
    [
      `strip ${number}${scan}: patch ${at + 1}`,
      one(at, (patch) => ({
        ...patch,
        density: patch.density + Math.hypot(budget.evennessDensity, patch.noise),
      })),
    ],
    wedge === undefined
      ? [
          `strip ${number}: light of patch ${at + 1}`,
          one(at, (patch) => ({ ...patch, stops: patch.stops + budget.doseStops })),
        ]
      : [
          `tablet ${wedge}: step ${at + 1}`,
          one(at, (patch) => ({ ...patch, stops: patch.stops + TABLET_STOPS })),
        ],
  ]);
  return new Map([
    [`tone of ${device}`, all((density) => density * (1 + budget.gammaShare))],
    [`stray light of ${device}`, all((density) => withoutFlare(density, budget.flareSpread))],
    [`strip ${number}${scan}: white`, all((density) => density + budget.evennessDensity)],
    ...steps,
  ]);
}
/** Of a calibrated tablet's step, 0.01 in density: common practice, no source. */
const TABLET_STOPS = 0.01 / Math.log10(2);

/** A figure of the patches with what each error shifts it by. */
export function figureOf(
  patches: readonly ReadPatch[],
  shown: Shown,
  of: (patches: readonly ReadPatch[]) => number | undefined,
): Doubted | undefined {
  const value = of(patches);
  if (value === undefined) return undefined;
  const shifts = [...shown].map(([name, each]) => [name, (of(each) ?? value) - value] as const);
  return { value, shifts: new Map(shifts) };
}

/** The black above white that a strip shows: two last patches alike and dark; undefined where it has none. */
export function blackOn(strip: NumberedStrip): Doubted | undefined {
  const patches = patchesOf(strip.reading, strip.reading.patches);
  return figureOf(patches, errorsOf(strip, patches), (some) => {
    const [before, last] = [some.at(-2)!.density, some.at(-1)!.density];
    return patches.at(-1)!.density > 1.4 && isLevel(patches) ? (before + last) / 2 : undefined;
  });
}

function isLevel(patches: readonly ReadPatch[]): boolean {
  return patches.at(-1)!.density - patches.at(-2)!.density < 0.03;
}

/** Where no strip shows black: a glossy paper's, or what the darkest patch says at least. */
export function assumedBlack(strips: readonly NumberedStrip[]): Doubted {
  const darkest = strips.map(({ reading }) => patchesOf(reading, reading.patches).at(-1)!.density);
  const value = Math.max(ASSUMED_BLACK, ...darkest.map((density) => density + 0.02));
  return { value, shifts: new Map([['black assumed', ASSUMED_BLACK_SPREAD]]) };
}

const LOG10_OF_STOP = Math.log10(2);
const SMALL_DENSITY = 0.05;

/** @param black of the paper, above white, as all its strips together tell it. */
export function fitStrip(strip: NumberedStrip, black: Doubted): StripFit {
  const { reading } = strip;
  const seen = patchesOf(reading, reading.patches);
  const readings = readingBy(errorBudgets[reading.device]);
  const fit = (patches: readonly ReadPatch[], deepest: number): PaperFit =>
    fitPaper(patches.map(readings), deepest);
  const misfit = Math.max(0, fit(seen, black.value).typicalMiss - USUAL_MISS);
  const patches = seen.map((patch) => ({ ...patch, noise: Math.hypot(patch.noise, misfit) }));
  const shown = errorsOf(strip, patches);
  const rangeR = coversRange(patches, black.value)
    ? figureOf(patches, shown, (some) => fit(some, black.value).rangeR)
    : undefined;
  const stops = figureOf(patches, shown, (some) => stopsAt(some, isoPoints.speedNetDensity));
  return {
    strip,
    rangeR:
      rangeR &&
      withShape(
        strip,
        withBlack(rangeR, black, (deepest) => fit(patches, deepest).rangeR),
      ),
    logSpeedMs:
      stops &&
      sumOf([
        { times: LOG10_OF_STOP, of: stops },
        { times: LOG10_OF_STOP, of: between(strip, patches) },
      ]),
  };
}

function withBlack(figure: Doubted, black: Doubted, of: (black: number) => number): Doubted {
  const slope = (of(black.value + SMALL_DENSITY) - figure.value) / SMALL_DENSITY;
  return sumOf([
    { times: 1, of: figure },
    { times: slope, of: { value: 0, shifts: black.shifts } },
  ]);
}

/** A paper's curve has another shape than the one that is fitted, alike on all its strips through one filter. */
function withShape({ reading }: NumberedStrip, figure: Doubted): Doubted {
  const shape = {
    value: 0,
    shifts: new Map([[`shape through ${reading.filter}`, SHAPE_SHARE * figure.value]]),
  };
  return sumOf([
    { times: 1, of: figure },
    { times: 1, of: shape },
  ]);
}

function between({ number }: NumberedStrip, patches: readonly ReadPatch[]): Doubted {
  return { value: 0, shifts: new Map([[`strip ${number}: between patches`, betweenPatches(patches)]]) };
}
