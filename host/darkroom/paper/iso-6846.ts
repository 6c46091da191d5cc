import { InputError } from '../../errors.js';
/**
 * Speed and range of a black-and-white paper as ISO 6846:1992 defines them, from densitometer readings.
 *
 * T: the point 0.04 above base and fog; S: the point at 90 % of the net maximum density above base and fog.
 *    ISO range R = 100 (log Hs - log Ht), stated to the nearest 10.
 * M: the point 0.60 above base and fog. ISO speed P = 1000 / Hm with Hm in lux seconds, stated in the
 *    third-of-a-stop series of the standard's speeds.
 * Source: Focal Encyclopedia of Photography, 'From Exposure to Print', p. 679, for T, S and the range (which
 * says 90 % of the maximum; the standard is understood to mean the net maximum, a difference of 0.005 in
 * density); speed, and the rounding of both figures, from memory of the standard.
 */
export const isoPoints = { lowestNetDensity: 0.04, highestNetShare: 0.9, speedNetDensity: 0.6 } as const;
export const isoBounds = { speedP: { min: 1, max: 10_000 }, rangeR: { min: 30, max: 250 } } as const;

/** 1000 lux seconds at speed 1. */
const SPEED_CONSTANT = 1000;
const RANGE_STEP = 10;

export interface StepReading {
  readonly logExposure: number;
  readonly density: number;
}

export interface IsoFigures {
  readonly logExposureT: number;
  readonly logExposureS: number;
  readonly logExposureM: number;
  /** Log exposure range, exact. */
  readonly logRange: number;
  /** Unrounded and as stated on a box. */
  readonly exactRangeR: number;
  readonly rangeR: number;
  readonly exactSpeedP: number;
  readonly speedP: number;
}

/** Readings from which speed and range cannot be had; the message says what to measure instead. */
export class ReadingsError extends InputError {
  override readonly name = 'ReadingsError';
}

/**
 * @param readings steps in order of rising exposure, log10 of lux seconds (relative steps give a range all
 * the same, but then no true speed).
 * @param baseDensity base and fog, read on unexposed processed paper.
 * @throws ReadingsError for fewer than three steps, steps out of order, or steps that miss T, M or S.
 */
export function isoFiguresFrom(readings: readonly StepReading[], baseDensity: number): IsoFigures {
  checkOrder(readings);
  const netMaximum = Math.max(...readings.map(({ density }) => density)) - baseDensity;
  const point = (name: string, netDensity: number) => interpolate(readings, baseDensity + netDensity, name);
  const logExposureT = point('T (0.04 above base and fog)', isoPoints.lowestNetDensity);
  const logExposureS = point('S (90 % of the net maximum)', isoPoints.highestNetShare * netMaximum);
  const logExposureM = point('M (0.60 above base and fog)', isoPoints.speedNetDensity);
  const logRange = logExposureS - logExposureT;
  const exactSpeedP = SPEED_CONSTANT / 10 ** logExposureM;
  return {
    logExposureT,
    logExposureS,
    logExposureM,
    logRange,
    exactRangeR: 100 * logRange,
    rangeR: RANGE_STEP * Math.round((100 * logRange) / RANGE_STEP),
    exactSpeedP,
    speedP: nearestStatedSpeed(exactSpeedP),
  };
}

/** log10 of the exposure, in lux seconds, that a paper of speed `speedP` needs for 0.60 above base and fog. */
export function logSpeedExposure(speedP: number): number {
  return Math.log10(SPEED_CONSTANT / speedP);
}

/** The ISO third-of-a-stop speeds of one decade; the series repeats by tens. */
const DECADE = [100, 125, 160, 200, 250, 320, 400, 500, 640, 800];

/** The stated speed nearest to `exactSpeedP`, as ratios go. */
export function nearestStatedSpeed(exactSpeedP: number): number {
  const decade = 10 ** (Math.floor(Math.log10(exactSpeedP)) - 2);
  const candidates = [...DECADE, 1000].map((speed) => speed * decade);
  const apart = (speed: number) => Math.abs(Math.log(speed / exactSpeedP));
  return candidates.reduce((best, speed) => (apart(speed) < apart(best) ? speed : best));
}

function checkOrder(readings: readonly StepReading[]): void {
  if (readings.length < 3)
    throw new ReadingsError(
      `${readings.length} steps were read; at least 3 are needed, 15 or more are better`,
    );
  readings.forEach((reading, index) => {
    const before = readings[index - 1];
    if (before !== undefined && !(reading.logExposure > before.logExposure))
      throw new ReadingsError(
        `step ${index + 1} has no more exposure than the step before it; sort the steps`,
      );
  });
}

/** The log exposure at which the straight lines between readings first reach `density`. */
function interpolate(readings: readonly StepReading[], density: number, name: string): number {
  for (let index = 1; index < readings.length; index++) {
    const from = readings[index - 1]!;
    const to = readings[index]!;
    if (from.density > density || to.density < density || from.density === to.density) continue;
    const share = (density - from.density) / (to.density - from.density);
    return from.logExposure + share * (to.logExposure - from.logExposure);
  }
  throw new ReadingsError(
    `no two steps lie either side of point ${name}, density ${density.toFixed(2)}; add lighter or darker steps`,
  );
}
