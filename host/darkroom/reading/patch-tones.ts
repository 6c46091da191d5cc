import { LEAST_LIGHT, type Light } from './light.js';
import type { PaperWhite } from './paper-white.js';

/** The tone of one patch, from its inner part. */
export interface PatchTone {
  /** Above paper white; the middle one of its pixels, so that dust is not in it. */
  readonly density: number;
  /** How far its tones spread, noise averaged out: near nothing under flat light. */
  readonly spread: number;
  /** The share of it that is far lighter than its middle. */
  readonly glareShare: number;
  /** From -1 to 1: how much of what differs between neighbours turns back within few pixels. */
  readonly waves: number;
  /** By how much its right third is darker than its left one, in density. */
  readonly rise: number;
  readonly pixels: number;
}

/** Edges are uneven and a card's shadow is soft: this much of a patch's width and height is read. */
export const INNER_SHARE = 0.6;
const BLOCK = 4;
/** In density: no picture of a flat patch has this by itself. */
const GLARE_DENSITY = 0.25;

export interface PatchPlace {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly lean: number;
}

export function patchTone(picture: Light, white: Pick<PaperWhite, 'logAt'>, place: PatchPlace): PatchTone {
  const blocks = blockDensities(picture, white, place);
  const sorted = [...blocks.values].sort((one, other) => one - other);
  const density = sorted[Math.floor(sorted.length / 2)]!;
  const quartiles = sorted[Math.floor(sorted.length * 0.84)]! - sorted[Math.floor(sorted.length * 0.16)]!;
  return {
    density,
    spread: quartiles / 2,
    glareShare: sorted.filter((value) => value < density - GLARE_DENSITY).length / sorted.length,
    waves: wavesOf(blocks),
    rise: riseOf(blocks),
    pixels: sorted.length * BLOCK * BLOCK,
  };
}

interface Blocks {
  readonly columns: number;
  readonly values: readonly number[];
}

/** Densities of small squares, each of their mean light. */
function blockDensities(
  { width, height, light }: Light,
  white: Pick<PaperWhite, 'logAt'>,
  place: PatchPlace,
): Blocks {
  const inset = (1 - INNER_SHARE) / 2;
  const [patchWidth, patchHeight] = [place.right - place.left, place.bottom - place.top];
  const [top, bottom] = [place.top + inset * patchHeight, place.bottom - inset * patchHeight];
  const middle = (place.top + place.bottom) / 2;
  const columns = Math.max(1, Math.floor((INNER_SHARE * patchWidth) / BLOCK));
  const values: number[] = [];
  const block = new Float64Array(BLOCK * BLOCK);
  for (let y = Math.ceil(top); y + BLOCK <= bottom && y + BLOCK <= height; y += BLOCK) {
    const left = Math.round(place.left + inset * patchWidth + place.lean * (y - middle));
    for (let column = 0; column < columns; column++) {
      const x = Math.min(width - BLOCK, Math.max(0, left + column * BLOCK));
      for (let row = 0; row < BLOCK; row++)
        for (let at = 0; at < BLOCK; at++) block[row * BLOCK + at] = light[(y + row) * width + x + at]!;
      values.push(white.logAt(x, y) - Math.log10(Math.max(LEAST_LIGHT, meanWithoutSpecks(block))));
    }
  }
  return { columns, values: values.length > 0 ? values : [0] };
}

function riseOf({ columns, values }: Blocks): number {
  const third = Math.max(1, Math.floor(columns / 3));
  const meanWhere = (isIn: (column: number) => boolean) => {
    const some = values.filter((_, at) => isIn(at % columns));
    return some.reduce((sum, value) => sum + value, 0) / some.length;
  };
  return meanWhere((column) => column >= columns - third) - meanWhere((column) => column < third);
}

/** Dust is a few pixels: the lightest and the darkest of a square do not count. */
function meanWithoutSpecks(block: Float64Array): number {
  const sorted = block.sort();
  let sum = 0;
  for (let at = SPECK; at < sorted.length - SPECK; at++) sum += sorted[at]!;
  return sum / (sorted.length - 2 * SPECK);
}
const SPECK = 4;

/** The lowest correlation of blocks with those a few further on: waves come back with the other sign. */
function wavesOf({ columns, values }: Blocks): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const power = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
  if (columns < 8 || power < LEAST_WAVES ** 2) return 0;
  let lowest = 0;
  for (let lag = 1; lag <= 4; lag++) {
    let [sum, count] = [0, 0];
    for (let at = 0; at + lag < values.length; at++) {
      if ((at % columns) + lag >= columns) continue;
      sum += (values[at]! - mean) * (values[at + lag]! - mean);
      count++;
    }
    lowest = Math.min(lowest, sum / count / power);
  }
  return lowest;
}

/** Waves below this, in density, average out and do no harm. */
const LEAST_WAVES = 0.02;
