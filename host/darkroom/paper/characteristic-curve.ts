/**
 * The characteristic curve of a paper: density against the logarithm (base 10) of exposure in lux seconds.
 *
 *     D = base + (maximum - base) x bend(u),   u = (logExposure - toe) / span
 *     bend(u) = w ln((1 + e^(u / w)) / (1 + e^((u - 1) / w)))
 *
 * A straight line from u = 0 to u = 1 whose corners are rounded alike at toe and shoulder, over a width w.
 * It rises everywhere, its toe is a power law of exposure, and it can be inverted in closed form, so that
 * toe and span follow exactly from the speed and range that are asked for. The shape between those points
 * is a model ('common practice, no source'); the points themselves are the standard's (iso-6846.ts).
 */
export interface CharacteristicCurve {
  /** Density of unexposed, processed paper: base and fog. */
  readonly baseDensity: number;
  readonly maximumDensity: number;
  /** Where the straight part begins, in log10 lux seconds, and how far it reaches. */
  readonly toeLogExposure: number;
  readonly spanLogExposure: number;
  /** How round its corners are, as a share of the span; as usual where left out. */
  readonly bendWidth?: number;
}

/** Roundness of both corners: gives a grade 2 paper a middle gradient of about 2.3. */
export const BEND_WIDTH = 0.14;

export function densityAt(curve: CharacteristicCurve, logExposure: number): number {
  const rise = bend((logExposure - curve.toeLogExposure) / curve.spanLogExposure, curve.bendWidth);
  return curve.baseDensity + (curve.maximumDensity - curve.baseDensity) * rise;
}

/** The inverse of `densityAt`, for densities strictly between base and maximum. */
export function logExposureFor(curve: CharacteristicCurve, density: number): number {
  const share = (density - curve.baseDensity) / (curve.maximumDensity - curve.baseDensity);
  return curve.toeLogExposure + curve.spanLogExposure * unbend(share, curve.bendWidth);
}

/** The share, 0 to 1, of the net density at `u` spans from the toe. */
export function bend(u: number, width = BEND_WIDTH): number {
  return width * (softPlus(u / width) - softPlus((u - 1) / width));
}

/** The inverse of `bend` for shares strictly between 0 and 1. */
export function unbend(share: number, width = BEND_WIDTH): number {
  const grown = Math.exp(share / width);
  return width * Math.log((grown - 1) / (1 - grown * Math.exp(-1 / width)));
}

/** ln(1 + e^x) without overflow. */
function softPlus(x: number): number {
  return Math.max(x, 0) + Math.log1p(Math.exp(-Math.abs(x)));
}
