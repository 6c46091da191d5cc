import { BEND_WIDTH, bend, unbend } from '../paper/characteristic-curve.js';
import { isoPoints } from '../paper/iso-6846.js';

/** A curve as natural logarithms: deepest black above white, ISO R, how round its corners are, and Richards' power (J. Exp. Bot. 10 (1959), from memory). */
export interface CurveForm {
  readonly lnBlack: number;
  readonly lnRange: number;
  readonly lnCorners: number;
  readonly lnPower: number;
}

/** Above white, `logExposure` from the one that gives 0.60. */
export function curveDensity(
  logExposure: number,
  { lnBlack, lnRange, lnCorners, lnPower }: CurveForm,
): number {
  const black = Math.exp(lnBlack);
  const width = BEND_WIDTH * Math.exp(lnCorners);
  const power = Math.exp(lnPower);
  const placeOf = (share: number) => unbend(share ** (1 / power), width);
  const reach = placeOf(isoPoints.highestNetShare) - placeOf(isoPoints.lowestNetDensity / black);
  const steepness = (100 * reach) / Math.exp(lnRange);
  return black * bend(placeOf(isoPoints.speedNetDensity / black) + steepness * logExposure, width) ** power;
}
