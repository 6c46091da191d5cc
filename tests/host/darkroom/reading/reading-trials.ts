import { lightOfSrgb } from '../../../../host/darkroom/negative/negative.js';
import { readStrip, type StripReading } from '../../../../host/darkroom/reading/read-strip.js';
import type { StripFigures } from '../../../../host/darkroom/reading/strip-figures.js';
import type { StripScan } from '../../../../host/darkroom/reading/strip-scan.js';
import { Random } from '../../../setup/random.js';
import { type MadeStrip, madeStrip, type StripWishes } from './made-strip.js';

export function scanOf({ width, height, codes }: MadeStrip, device: 'flatbed' | 'phone'): StripScan {
  const light = new Float32Array(codes.length);
  for (let at = 0; at < light.length; at++) light[at] = LIGHT[codes[at]!]!;
  return { width, height, light, filePixels: 1, colour: 'sRGB', device };
}

const LIGHT = Array.from({ length: 256 }, (_, code) => lightOfSrgb(code / 255));

/** What is told of a trial from one process to another. */
export interface Told {
  readonly seed: number;
  readonly strip: Pick<MadeStrip, 'rangeR'>;
  readonly reading: {
    readonly refused: StripReading['refused'];
    readonly figures: Pick<StripFigures, 'base' | 'isoR'> | undefined;
  };
  /** From the truth, in stops; undefined where nothing was read. */
  readonly offStops: number | undefined;
  readonly isInside: boolean | undefined;
}

export interface Trial extends Told {
  readonly strip: MadeStrip;
  readonly reading: StripReading;
}

export function trial(seed: number, wishes: StripWishes): Trial {
  const strip = madeStrip(new Random(seed), wishes);
  const isCounted = wishes.timer === 'plain';
  const asked = { dosesMs: strip.dosesMs, isCounted, tone: 0.6, device: wishes.device };
  const reading = readStrip(scanOf(strip, wishes.device), asked);
  const base = reading.figures?.base;
  const truth = Math.log2(strip.baseMs);
  return {
    seed,
    strip,
    reading,
    offStops: base && base.value - truth,
    isInside: base && base.low <= truth && truth <= base.high,
  };
}

export interface Tally {
  readonly trials: number;
  readonly refused: Readonly<Record<string, number>>;
  readonly read: number;
  readonly sigmaStops: number;
  readonly inside: number;
  /** Of those read, how many have the truth outside the interval. */
  readonly outside: number;
  /** Root mean square of what R is off by, and how many of the intervals have it. */
  readonly sigmaR: number;
  readonly insideR: number;
  readonly ranges: number;
  readonly halfWidth: number;
}

export function tally(trials: readonly Told[]): Tally {
  const refused: Record<string, number> = {};
  for (const { reading } of trials)
    if (reading.refused !== null) refused[reading.refused] = (refused[reading.refused] ?? 0) + 1;
  const read = trials.filter(({ offStops }) => offStops !== undefined);
  const ranges = read.filter(({ reading }) => reading.figures!.isoR !== undefined);
  const offR = ranges.map(({ reading, strip }) => reading.figures!.isoR!.value - strip.rangeR);
  return {
    trials: trials.length,
    refused,
    read: read.length,
    sigmaStops: rootMeanSquare(read.map(({ offStops }) => offStops!)),
    outside: read.filter(({ isInside }) => !isInside).length,
    inside: read.filter(({ isInside }) => isInside).length / read.length,
    sigmaR: rootMeanSquare(offR),
    insideR:
      ranges.filter(({ reading, strip }) => {
        const { low, high } = reading.figures!.isoR!;
        return low <= strip.rangeR && strip.rangeR <= high;
      }).length / ranges.length,
    ranges: ranges.length,
    halfWidth: rootMeanSquare(
      read.map(({ reading }) => (reading.figures!.base!.high - reading.figures!.base!.low) / 2),
    ),
  };
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
