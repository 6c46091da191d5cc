import type { Interval } from '../reading/strip-figures.js';
import { type Doubted, difference, intervalOf, mapped, sumOf } from './doubted.js';
import { dryDownOf } from './dry-down-read.js';
import { join, type Observation, type Outlier } from './join.js';
import { type KeptReading, keptReadingFrom } from './kept-reading.js';
import {
  assumedBlack,
  blackOn,
  fitStrip,
  type NumberedStrip,
  patchesOf,
  type StripFit,
} from './strip-fit.js';

/** A row of the archive as far as a profile needs it. */
export interface PaperReadingRow {
  readonly body: unknown;
  readonly keptMs: number;
}

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
  /** For drawing: range, and log10 of the exposure for 0.60 above white in that of the reference filter. */
  readonly doubted: { readonly rangeR: Doubted; readonly logFactor: Doubted } | undefined;
}

export type StripState = 'taken' | 'left out by you' | 'outlier' | 'in doubt';

export interface ProfileStrip extends NumberedStrip {
  readonly state: StripState;
  /** In words, why it is an outlier or in doubt. */
  readonly outlier: (Outlier & { readonly of: 'range' | 'speed' }) | undefined;
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
  readonly blackDoubted: Doubted;
  /** In stops, how much darker it dries; undefined without a strip that was scanned wet and dry. */
  readonly dryDownStops: Interval | undefined;
  readonly strips: readonly ProfileStrip[];
}

/**
 * The profile that follows from these rows; undefined where no strip is among them.
 * @param version how many of the rows count; all where left out.
 */
export function profileFrom(
  rows: readonly PaperReadingRow[],
  version = rows.length,
): PaperProfile | undefined {
  const said = rows.slice(0, version).map(({ body, keptMs }) => ({ said: keptReadingFrom(body), keptMs }));
  const { strips, leftOut } = stripsIn(said);
  const wanted = strips.filter(({ number }) => !leftOut.has(number));
  if (strips.length === 0) return undefined;
  const blacks = join(
    wanted.flatMap((strip) => {
      const of = blackOn(strip);
      return of === undefined ? [] : [{ number: strip.number, of, unknowns: ['black'] }];
    }),
  ).figures.get('black');
  const black = blacks ?? assumedBlack(wanted);
  const fits = wanted.map((strip) => fitStrip(strip, black));
  const ranges = join(fits.flatMap(rangeObservation));
  const light = referenceLight(wanted);
  const isMeasured = light === undefined;
  const speeds = join(fits.flatMap(speedObservation), isMeasured ? [] : [lightName(light)]);
  const outliers = [
    ...ranges.outliers.map((outlier) => ({ ...outlier, of: 'range' as const })),
    ...speeds.outliers.map((outlier) => ({ ...outlier, of: 'speed' as const })),
  ];
  const names = [...new Set(wanted.map(({ reading }) => reading.filter))].sort(inOrder);
  const referenceFilter = referenceOf(names, speeds.figures);
  const reference = speeds.figures.get(filterName(referenceFilter));
  return {
    version,
    referenceFilter,
    black: { ...intervalOf(black), isMeasured: blacks !== undefined },
    blackDoubted: black,
    filters: names.map((filter) =>
      filterProfile(filter, {
        ranges: ranges.figures,
        speeds: speeds.figures,
        reference,
        isMeasured,
        wanted,
      }),
    ),
    dryDownStops: dryDownOf(wanted),
    strips: strips.map((strip) => ({
      ...strip,
      ...stateOf(strip, leftOut, outliers),
      points: pointsOf(strip, speeds.figures, reference),
    })),
  };
}

interface Said {
  readonly said: KeptReading | undefined;
  readonly keptMs: number;
}

/** Strips are numbered as they came; what is said later of one holds. */
function stripsIn(said: readonly Said[]): { strips: NumberedStrip[]; leftOut: Set<number> } {
  const strips: NumberedStrip[] = [];
  const leftOut = new Set<number>();
  for (const { said: reading, keptMs } of said)
    if (reading?.kind === 'strip') strips.push({ number: strips.length + 1, keptMs, reading });
    else if (reading?.kind === 'left-out') leftOut.add(reading.reading);
    else if (reading !== undefined) leftOut.delete(reading.reading);
  return { strips, leftOut };
}

const filterName = (filter: string) => `filter ${filter}`;
const lightName = (light: string) => `light ${light}`;

function rangeObservation({ strip, rangeR }: StripFit): Observation[] {
  return rangeR === undefined
    ? []
    : [{ number: strip.number, of: rangeR, unknowns: [filterName(strip.reading.filter)] }];
}

/** In lux seconds where the light was measured; else in the strip's own milliseconds, whose light is an unknown. */
function speedObservation({ strip, logSpeedMs }: StripFit): Observation[] {
  if (logSpeedMs === undefined) return [];
  const { filter, lux, light } = strip.reading;
  const own = { number: strip.number, unknowns: [filterName(filter)] };
  if (lux === undefined) return [{ ...own, of: logSpeedMs, unknowns: [...own.unknowns, lightName(light)] }];
  const meter = { value: Math.log10(lux / 1000), shifts: new Map([['light meter', METER_LOG]]) };
  return [
    {
      ...own,
      of: sumOf([
        { times: 1, of: logSpeedMs },
        { times: 1, of: meter },
      ]),
    },
  ];
}
/** A hand-held light meter is within some ten per cent: common practice, no source. */
const METER_LOG = 0.04;

/** Where no light was measured, the one that most strips had stands for all. */
function referenceLight(strips: readonly NumberedStrip[]): string | undefined {
  if (strips.some(({ reading }) => reading.lux !== undefined)) return undefined;
  const lights = strips.map(({ reading }) => reading.light);
  const count = (light: string) => lights.filter((each) => each === light).length;
  return lights.reduce<string>((best, light) => (count(light) > count(best) ? light : best), lights[0] ?? '');
}

/** Filter factors are counted from no filter, else from 2, else from the first there is. */
function referenceOf(names: readonly string[], speeds: ReadonlyMap<string, Doubted>): string {
  const told = names.filter((name) => speeds.has(filterName(name)));
  return ['', '2'].find((name) => told.includes(name)) ?? told[0] ?? names[0]!;
}

interface Known {
  readonly ranges: ReadonlyMap<string, Doubted>;
  readonly speeds: ReadonlyMap<string, Doubted>;
  readonly reference: Doubted | undefined;
  readonly isMeasured: boolean;
  readonly wanted: readonly NumberedStrip[];
}

function filterProfile(
  filter: string,
  { ranges, speeds, reference, isMeasured, wanted }: Known,
): FilterProfile {
  const rangeR = ranges.get(filterName(filter));
  const speed = speeds.get(filterName(filter));
  const logFactor = speed && reference && difference(speed, reference);
  return {
    filter,
    rangeR: rangeR && intervalOf(rangeR),
    factor: logFactor && mapped(intervalOf(logFactor), (log) => 10 ** log),
    speedP: isMeasured && speed ? mapped(intervalOf(speed), (log) => 1000 / 10 ** log) : undefined,
    strips: wanted.filter(({ reading }) => reading.filter === filter).map(({ number }) => number),
    doubted: rangeR && logFactor && { rangeR, logFactor },
  };
}

function pointsOf(
  { reading }: NumberedStrip,
  speeds: ReadonlyMap<string, Doubted>,
  reference: Doubted | undefined,
): CurvePoint[] {
  const { lux, light, patches } = reading;
  const logLight = lux === undefined ? speeds.get(lightName(light))?.value : Math.log10(1000 / lux);
  if (logLight === undefined || reference === undefined) return [];
  const stopsFor = (log: number) => (log - logLight - reference.value) / Math.log10(2);
  return patchesOf(reading, patches).map(({ stops, density }) => ({
    stops: stopsFor(stops * Math.log10(2)),
    density,
  }));
}

function stateOf(
  { number }: NumberedStrip,
  leftOut: ReadonlySet<number>,
  outliers: readonly (Outlier & { readonly of: 'range' | 'speed' })[],
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
