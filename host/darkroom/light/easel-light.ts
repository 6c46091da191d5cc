/** A lens over an easel that may lie askew; how far a place of the paper is from under the lens. */
export interface EaselUnderLens {
  /** From the lens to the paper below it. */
  readonly lensHeightMm: number;
  /** How much higher the paper lies for each millimetre to the right, and towards the printer. */
  readonly riseAcross: number;
  readonly riseDown: number;
}

/**
 * Light at a place of the easel, in stops from that under the lens: by the square of the distance, by the cosine at which the lens
 * is seen, and by that at which the paper is hit. Level, that is the fourth power of the cosine.
 */
export function easelLightStops(
  { lensHeightMm, riseAcross, riseDown }: EaselUnderLens,
  acrossMm: number,
  downMm: number,
): number {
  const below = lensHeightMm - riseAcross * acrossMm - riseDown * downMm;
  const distance = Math.hypot(acrossMm, downMm, below);
  const atLens = below / distance;
  const normal = Math.hypot(riseAcross, riseDown, 1);
  const atPaper = (riseAcross * acrossMm + riseDown * downMm + below) / (normal * distance);
  const inMiddle = 1 / (normal * lensHeightMm ** 2);
  return Math.log2((atLens * atPaper) / distance ** 2 / inMiddle);
}

/**
 * By how many millimetres one edge lies nearer to the lens than the other, if a slope of so many stops from the middle to the
 * nearer edge comes of that alone: to first order a rise h at the height v makes 3 h / v more light.
 */
export function riseOfSlopeMm(slopeStops: number, lensHeightMm: number): number {
  return (2 / 3) * Math.LN2 * lensHeightMm * slopeStops;
}
