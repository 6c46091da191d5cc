import { LEAST_LIGHT, type Light } from './light.js';
import { solved } from './normal-equations.js';
import { type Inside, NEARLY_WHITE, whiteBorder } from './white-border.js';

/** Paper white as the scanner saw it from place to place: log10 of the light, a surface of the second order. */
export interface PaperWhite {
  readonly logAt: (x: number, y: number) => number;
  /** From how much of the frame it was taken, and whether it says how even the light is. */
  readonly pixels: number;
  readonly isSurface: boolean;
  /** The share of it at the very end of the scale. */
  readonly clippedShare: number;
}

const LEAST_PIXELS = 200;
const END_OF_SCALE = 0.9985;

/**
 * From the border about the patches, where there is one, else from the first patch.
 * @param roughWhite light of the lightest parts.
 */
export function paperWhite(picture: Light, inside: Inside, roughWhite: number): PaperWhite | undefined {
  const border = samplesOf(picture, inside, roughWhite);
  if (border.length < LEAST_PIXELS) return undefined;
  const sides = sidesOf(border, inside);
  const terms = sides >= 3 ? surfaceTerms : sides === 2 ? planeTerms : flatTerms;
  const scale = { x: picture.width, y: picture.height };
  const weights = robustFit(border, (x, y) => terms(x / scale.x - 0.5, y / scale.y - 0.5));
  return {
    logAt: (x, y) =>
      terms(x / scale.x - 0.5, y / scale.y - 0.5).reduce((sum, term, at) => sum + term * weights[at]!, 0),
    pixels: border.length,
    isSurface: sides >= 3,
    clippedShare: border.filter(({ log }) => log >= Math.log10(END_OF_SCALE)).length / border.length,
  };
}

/** Where no border is in the frame, but the first two patches are alike: paper as light as that is white, and the light is taken as even. */
export function whiteOfPatches(roughWhite: number, densities: readonly number[]): PaperWhite | undefined {
  const [first, second] = densities as readonly [number, number];
  if (Math.abs(second - first) > ALIKE || densities.at(-1)! - second < LEAST_RISE) return undefined;
  const log = Math.log10(roughWhite) - first;
  const clippedShare = log >= Math.log10(END_OF_SCALE) ? 1 : 0;
  return { logAt: () => log, pixels: 0, isSurface: false, clippedShare };
}
const ALIKE = 0.006;
const LEAST_RISE = 0.3;

interface Sample {
  readonly x: number;
  readonly y: number;
  readonly log: number;
}

function samplesOf(picture: Light, inside: Inside, roughWhite: number): Sample[] {
  const { width, height, light } = picture;
  const samples: Sample[] = [];
  const stride = Math.max(1, Math.round(Math.sqrt((width * height) / 40_000)));
  const gap = Math.max(2, Math.round(width * 0.008));
  const rough = Math.log10(roughWhite);
  const { left, right, top, bottom } = whiteBorder(picture, inside, gap, roughWhite);
  for (let y = Math.ceil(Math.max(1, top)); y <= Math.min(height - 2, bottom); y += stride)
    for (let x = Math.ceil(Math.max(1, left)); x <= Math.min(width - 2, right); x += stride) {
      const isInside =
        x > inside.left - gap && x < inside.right + gap && y > inside.top - gap && y < inside.bottom + gap;
      const log = Math.log10(Math.max(LEAST_LIGHT, light[y * width + x]!));
      if (!isInside && Math.abs(log - rough) < NEARLY_WHITE) samples.push({ x, y, log });
    }
  return samples;
}

function sidesOf(samples: readonly Sample[], { left, right, top, bottom }: Inside): number {
  const on = [
    ({ x }: Sample) => x < left,
    ({ x }: Sample) => x > right,
    ({ y }: Sample) => y < top,
    ({ y }: Sample) => y > bottom,
  ];
  return on.filter((isOn) => samples.filter(isOn).length >= LEAST_PIXELS / 4).length;
}

const flatTerms = (_x: number, _y: number): number[] => [1];
const planeTerms = (x: number, y: number): number[] => [1, x, y];
const surfaceTerms = (x: number, y: number): number[] => [1, x, y, x * x, x * y, y * y];

/** Least squares, and once more without what lies far off: dust, hairs, a finger. */
function robustFit(samples: readonly Sample[], terms: (x: number, y: number) => number[]): number[] {
  const first = leastSquares(samples, terms);
  const missOf = ({ x, y, log }: Sample) =>
    Math.abs(log - terms(x, y).reduce((sum, term, at) => sum + term * first[at]!, 0));
  const misses = samples.map(missOf);
  const typical = [...misses].sort((one, other) => one - other)[Math.floor(misses.length / 2)]!;
  const near = samples.filter((_, at) => misses[at]! <= Math.max(1e-6, 4 * typical));
  return leastSquares(near, terms);
}

function leastSquares(samples: readonly Sample[], terms: (x: number, y: number) => number[]): number[] {
  const count = terms(0, 0).length;
  const rows = Array.from({ length: count }, () => new Array<number>(count + 1).fill(0));
  for (const { x, y, log } of samples) {
    const values = [...terms(x, y), log];
    for (let row = 0; row < count; row++)
      for (let column = 0; column <= count; column++) rows[row]![column]! += values[row]! * values[column]!;
  }
  return solved(rows);
}
