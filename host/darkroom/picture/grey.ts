import { srgbOfLight } from '../negative/negative.js';

/** A grey picture, one byte a pixel, coded for a screen (sRGB). */
export interface GreyPicture {
  readonly width: number;
  readonly height: number;
  readonly pixels: Uint8Array;
}

/** Paper white on the screen: below full, so that the print shows against a white page. */
const PAPER_WHITE = 0.92;

/** Screen code for a density: the base of this paper is PAPER_WHITE. */
export function greyOfDensity(density: number, baseDensity: number): number {
  return Math.round(255 * srgbOfLight(PAPER_WHITE * 10 ** (baseDensity - density)));
}
