import { boathouseScene, sceneAspect } from './boathouse-scene.js';
import { type Negative, negativeBounds, scanTable } from './negative.js';
import { ValueNoise } from './value-noise.js';

/** Film as the demo has it: base and fog, gradient, flare as log exposure, and grain as the eye finds it. */
const FILM = {
  baseDensity: 0.25,
  /** 1.05 of density range over a subject range of 2.20 less 0.40 of flare: values that suit grade 2. */
  gradient: 0.583,
  flareLog: 0.25,
  grainDensity: 0.018,
} as const;

const FLARE = 10 ** FILM.flareLog;

/** Linear codes, the base full on: so that 16 bits reach past the densest cloud. */
const CODING = { as: 'negative', coding: 'linear', baseDensity: FILM.baseDensity, densityRange: 0 } as const;

/**
 * The negative of the boathouse on Skelder Mere, made by arithmetic: no picture file is needed.
 * @param heightPixels the print is half as wide again; up to about 2,700 for eleven megapixels.
 * @param seed the clouds, boards and ripples.
 */
export function boathouseNegative(heightPixels: number, seed = 7): Negative {
  const width = Math.round(heightPixels * sceneAspect);
  const scene = boathouseScene(seed);
  const grain = new ValueNoise(seed + 1);
  const samples = new Uint16Array(width * heightPixels);
  // Down each column: much of the scene is the same all along it.
  for (let column = 0; column < width; column++)
    for (let row = 0; row < heightPixels; row++) {
      const logLuminance = scene((column + 0.5) / heightPixels, (row + 0.5) / heightPixels);
      const speck = FILM.grainDensity * (grain.at(column, row) + grain.at(column >> 1, row >> 1) - 1);
      samples[row * width + column] = codeOf(filmDensity(logLuminance) + speck);
    }
  return { width, height: heightPixels, samples, logTransmittance: scanTable(CODING) };
}

/** Density above base: a straight line in log exposure, where the lens's flare lifts the shadows. */
function filmDensity(logLuminance: number): number {
  return FILM.gradient * Math.log10((tenTo(logLuminance) + FLARE) / (1 + FLARE));
}

function codeOf(densityAboveBase: number): number {
  const top = negativeBounds.codes - 1;
  return Math.max(0, Math.min(top, Math.round(top * tenTo(-Math.max(0, densityAboveBase)))));
}

/** Much quicker than a power. */
function tenTo(exponent: number): number {
  return Math.exp(Math.LN10 * exponent);
}
