import { Paper } from '../../../../host/darkroom/paper/paper.js';
import type { Random } from '../../../setup/random.js';
import type { MadeNegative } from './made-negative.js';
import { normal } from './normal.js';
import { type Device, seenBy } from './scanner-model.js';

/** Of an enlarger all that its strips have alike, and of a paper through one filter. */
export interface MadeEasel {
  /** Densities in directed light are so many times those of the film. */
  readonly contrast: number;
  /** Stray light, as a share of the mean light of the picture. */
  readonly flareShare: number;
  readonly paper: Paper;
  readonly rangeR: number;
  /** Milliseconds that give 0.60 above white with no film in the carrier. */
  readonly speedMs: number;
}

/** How the strip's scan lies on the negative's: the truth that a registration is held against. */
export interface TruePlace {
  readonly mirrored: boolean;
  readonly turnRadians: number;
  /** Pixels of the negative for a pixel of the strip's scan. */
  readonly toNegative: (x: number, y: number) => readonly [x: number, y: number];
}

export interface MadePictureStrip {
  readonly width: number;
  readonly height: number;
  readonly codes: Uint8Array;
  readonly dosesMs: readonly number[];
  /** Where the patches end, along the strip at its middle row, in pixels of the scan. */
  readonly edgesPx: readonly number[];
  readonly place: TruePlace;
}

const BASE_DENSITY = 0.05;

export function madeEasel(random: Random): MadeEasel {
  const rangeR = 60 + 90 * random.share();
  const own = { speedP: 200, rangeR };
  const filters = random.chance(0.5)
    ? { '': own }
    : { '': own, hard: { speedP: 200, rangeR: Math.max(45, rangeR - 30) } };
  const maximumDensity = 2 + 0.2 * random.share();
  return {
    contrast: 1 + 0.15 * random.share(),
    flareShare: 0.005 + 0.03 * random.share(),
    paper: new Paper({ name: 'made up', baseDensity: BASE_DENSITY, maximumDensity, filters }),
    rangeR,
    speedMs: 2500 * 2 ** (2 * random.share()),
  };
}

/** Light that reaches the easel, as a share of what would with no film. */
export function easelLight({ contrast, flareShare }: MadeEasel, negative: MadeNegative): Float32Array {
  const through = negative.density.map((density) => 10 ** (-contrast * (density + FILM_BASE)));
  const mean = through.reduce((sum, each) => sum + each, 0) / through.length;
  return through.map((each) => each + flareShare * mean);
}
export const FILM_BASE = 0.25;

export interface PictureStripWishes {
  readonly device: Device;
  readonly size?: number;
}

/** A strip of the negative's picture, laid anywhere on the easel that shows enough of it, and scanned. */
export function madePictureStrip(
  random: Random,
  negative: MadeNegative,
  easel: MadeEasel,
  { device, size = 400 }: PictureStripWishes,
): MadePictureStrip {
  const light = easelLight(easel, negative);
  const patches = random.between(5, 8);
  const stepStops = random.pick([1 / 3, 0.5, 0.5, 0.5]);
  const layout = layoutOf(random, patches, size, negative);
  const middle = middleLight(light);
  // The right exposure lies somewhere among the patches, as a printer aims.
  const rightMs = easel.speedMs / middle;
  const firstMs = rightMs * 2 ** (-stepStops * (1.2 + (patches - 3) * random.share()));
  const dosesMs = Array.from({ length: patches }, (_, at) => Math.round(firstMs * 2 ** (at * stepStops)));
  const given = dosesMs.map((doseMs) => doseMs * 2 ** (0.0145 * normal(random)));
  const density = sheetOf(layout, given, light, negative, easel);
  const codes = seenBy(random, device, { ...layout, density });
  return { ...layout, codes, dosesMs };
}

/** Half-way between the lightest and the darkest of the picture, as light. */
function middleLight(light: Float32Array): number {
  const sorted = Float32Array.from(light).sort();
  const at = (share: number) => sorted[Math.floor(share * (sorted.length - 1))]!;
  return Math.sqrt(at(0.02) * at(0.98));
}

interface Layout {
  readonly width: number;
  readonly height: number;
  readonly border: number;
  readonly edgesPx: readonly number[];
  readonly place: TruePlace;
  /** Radians by which the paper lies crooked in the scanner, and the card on the paper. */
  readonly tilt: number;
  readonly lean: number;
  readonly blurPx: number;
}

function layoutOf(random: Random, patches: number, size: number, negative: MadeNegative): Layout {
  const [width, height] = [size, Math.round(size * (0.32 + 0.35 * random.share()))];
  const border = Math.round(size * (0.03 + 0.03 * random.share()));
  const inner = width - 2 * border;
  const edgesPx = Array.from({ length: patches + 1 }, (_, at) => {
    const uneven = at === 0 || at === patches ? 0 : 0.2 * (random.share() - 0.5);
    return border + (inner * (at + uneven)) / patches;
  });
  const [tilt, lean] = [0, 0].map(() => ((random.share() - 0.5) * 2 * Math.PI) / 180) as [number, number];
  const blurPx = 0.5 + 2 * random.share();
  return {
    width,
    height,
    border,
    edgesPx,
    tilt,
    lean,
    blurPx,
    place: placeOf(random, width, height, negative),
  };
}

/** All of the strip's picture lies on the negative; crooked by a degree or two. */
function placeOf(random: Random, width: number, height: number, negative: MadeNegative): TruePlace {
  const mirrored = random.chance(0.5);
  const quarterTurns = random.below(4);
  const turnRadians = (quarterTurns * Math.PI) / 2 + ((random.share() - 0.5) * 4 * Math.PI) / 180;
  const [across, down] = quarterTurns % 2 === 1 ? [height, width] : [width, height];
  const most = Math.min(negative.width / across, negative.height / down) * 0.97;
  const times = most * (0.55 + 0.45 * random.share());
  const [roomX, roomY] = [negative.width - times * across, negative.height - times * down];
  const middleX = negative.width / 2 + (random.share() - 0.5) * 0.95 * roomX;
  const middleY = negative.height / 2 + (random.share() - 0.5) * 0.95 * roomY;
  const [cosine, sine] = [times * Math.cos(turnRadians), times * Math.sin(turnRadians)];
  const toNegative = (x: number, y: number): readonly [number, number] => {
    const [right, below] = [(mirrored ? -1 : 1) * (x - (width - 1) / 2), y - (height - 1) / 2];
    return [middleX + right * cosine - below * sine, middleY + right * sine + below * cosine];
  };
  return { mirrored, turnRadians, toNegative };
}

function sheetOf(
  { width, height, border, edgesPx, tilt, lean, blurPx, place }: Layout,
  givenMs: readonly number[],
  light: Float32Array,
  negative: MadeNegative,
  easel: MadeEasel,
): Float32Array {
  const toneOf = toneTable(easel);
  const density = new Float32Array(width * height);
  const inside = edgesPx.slice(1, -1);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      // The paper, turned about the scan's middle.
      const [right, below] = [x - width / 2, y - height / 2];
      const [onX, onY] = [right + tilt * below + width / 2, below - tilt * right + height / 2];
      if (onX < border || onX >= width - border || onY < border || onY >= height - border) continue;
      const along = onX - lean * (onY - height / 2);
      const doseMs = doseAt(along, inside, givenMs, blurPx);
      const lit = lightAt(light, negative, ...place.toNegative(x, y));
      density[y * width + x] = toneOf(Math.log10((doseMs * lit) / easel.speedMs));
    }
  return density;
}

function doseAt(
  along: number,
  inside: readonly number[],
  givenMs: readonly number[],
  blurPx: number,
): number {
  let doseMs = givenMs[0]!;
  inside.forEach((edge, at) => {
    const share = 1 / (1 + Math.exp(-(along - edge) / (0.4 * blurPx)));
    doseMs += share * (givenMs[at + 1]! - givenMs[at]!);
  });
  return doseMs;
}

function lightAt(light: Float32Array, { width, height }: MadeNegative, x: number, y: number): number {
  if (x < 0 || y < 0 || x >= width - 1 || y >= height - 1) return 1e-6;
  const [left, top] = [Math.floor(x), Math.floor(y)];
  const [u, v] = [x - left, y - top];
  const at = top * width + left;
  return (
    light[at]! * (1 - u) * (1 - v) +
    light[at + 1]! * u * (1 - v) +
    light[at + width]! * (1 - u) * v +
    light[at + width + 1]! * u * v
  );
}

/** Density above white by the log of the exposure over the one that gives 0.60. */
function toneTable({ paper }: MadeEasel): (log: number) => number {
  const speedPoint = Math.log10(1000 / paper.figures.filters['']!.speedP);
  const steps = Array.from(
    { length: 2001 },
    (_, at) => paper.densityAt('', speedPoint + (at - 1400) / 400) - BASE_DENSITY,
  );
  return (log) => steps[Math.min(2000, Math.max(0, Math.round(1400 + 400 * log)))]!;
}
