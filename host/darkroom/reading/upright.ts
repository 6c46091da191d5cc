import type { DensityGrid } from './find-patches.js';
import { LEAST_LIGHT, type Light } from './light.js';
import { type Box, sheetInFrame } from './sheet-in-frame.js';
import { straightened } from './tilt-in-frame.js';

/** A picture of light turned so that patches stand side by side, and how to find a place of it in the scan. */
export interface Upright {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
  /** The scan's pixel for a place of this picture. */
  readonly inScan: (x: number, y: number) => readonly [x: number, y: number];
  /** The scan's pixel along the strip for a column of this picture, and back. */
  readonly alongScan: (x: number) => number;
  readonly fromScan: (px: number) => number;
  /** What of the scan the patches follow each other along. */
  readonly along: 'x' | 'y';
  readonly mirrored: boolean;
}

/**
 * The sheet in the frame, laid straight and turned so that the lightest patch is at the left.
 * @param white light of the lightest parts.
 */
export function upright(asScanned: Light, white: number): Upright {
  const { frame, inFrame } = straightened(asScanned);
  const box = sheetInFrame(frame, white);
  const scan = cut(frame, box);
  const across = profile(scan, true);
  const down = profile(scan, false);
  const along = spreadOf(withoutBorder(across)) >= spreadOf(withoutBorder(down)) ? 'x' : 'y';
  const picture = turned(scan, along, isDarkFirst(along === 'x' ? across : down), box);
  return inFrame === undefined ? picture : fromCrooked(picture, inFrame);
}

/** Places of a picture that was turned back, in the scan as it was: along the strip at its middle. */
function fromCrooked(
  picture: Upright,
  inFrame: (x: number, y: number) => readonly [number, number],
): Upright {
  const { along, height } = picture;
  const inScan = (x: number, y: number) => inFrame(...picture.inScan(x, y));
  const alongScan = (x: number) => {
    const [column, row] = picture.inScan(0, height / 2);
    const straight = picture.alongScan(x);
    return along === 'x' ? inFrame(straight, row)[0] : inFrame(column, straight)[1];
  };
  const start = alongScan(0);
  const perColumn = alongScan(1) - start;
  return { ...picture, inScan, alongScan, fromScan: (px) => (px - start) / perColumn };
}

function cut(frame: Light, { left, right, top, bottom }: Box): Light {
  const [width, height] = [right - left, bottom - top];
  if (width === frame.width && height === frame.height) return frame;
  const light = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const from = (top + y) * frame.width + left;
    light.set(frame.light.subarray(from, from + width), y * width);
  }
  return { width, height, light };
}

export function turned(
  { width, height, light }: Light,
  along: 'x' | 'y',
  mirrored: boolean,
  box: Pick<Box, 'left' | 'top'> = { left: 0, top: 0 },
): Upright {
  const size = along === 'x' ? { width, height } : { width: height, height: width };
  const place = (x: number): number => (mirrored ? size.width - 1 - x : x);
  const inSheet = (x: number, y: number): readonly [number, number] =>
    along === 'x' ? [place(x), y] : [y, place(x)];
  const inScan = (x: number, y: number): readonly [number, number] => {
    const [column, row] = inSheet(x, y);
    return [column + box.left, row + box.top];
  };
  const start = along === 'x' ? box.left : box.top;
  const flipped = (x: number) => (mirrored ? size.width - x : x);
  const rest = {
    inScan,
    along,
    mirrored,
    alongScan: (x: number) => start + flipped(x),
    fromScan: (px: number) => flipped(px - start),
  };
  if (along === 'x' && !mirrored) return { ...size, ...rest, light };
  const out = new Float32Array(light.length);
  for (let y = 0; y < size.height; y++)
    for (let x = 0; x < size.width; x++) {
      const [column, row] = inSheet(x, y);
      out[y * size.width + x] = light[row * width + column]!;
    }
  return { ...size, ...rest, light: out };
}

/** Mean log of the light along one side, over the middle of the other. */
function profile({ width, height, light }: Light, across: boolean): number[] {
  const [length, depth] = across ? [width, height] : [height, width];
  const [from, to] = [Math.floor(depth * 0.3), Math.ceil(depth * 0.7)];
  return Array.from({ length }, (_, at) => {
    let sum = 0;
    for (let other = from; other < to; other += 2) {
      const index = across ? other * width + at : at * width + other;
      sum += Math.log10(Math.max(LEAST_LIGHT, light[index]!));
    }
    return sum / Math.ceil((to - from) / 2);
  });
}

/** What is as light as the lightest at both ends says nothing of where the patches follow each other. */
function withoutBorder(profile: readonly number[]): readonly number[] {
  const sorted = [...profile].sort((one, other) => one - other);
  const level = sorted[Math.floor(sorted.length * 0.97)]! - BORDER_TONE;
  const blur = Math.ceil(profile.length * BLUR_SHARE);
  const [from, to] = [
    profile.findIndex((value) => value < level),
    profile.findLastIndex((value) => value < level),
  ];
  const inner = from < 0 ? [] : profile.slice(from + blur, to + 1 - blur);
  return inner.length > blur ? inner : profile;
}
const BORDER_TONE = 0.1;
const BLUR_SHARE = 0.02;

function spreadOf(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
}

function isDarkFirst(profile: readonly number[]): boolean {
  const half = Math.floor(profile.length / 2);
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return mean(profile.slice(0, half)) < mean(profile.slice(half));
}

const GRID_COLUMNS = 400;
const GRID_ROWS = 100;

/** Densities above `white`, averaged into few cells: enough to find patches in. */
export function gridOf(
  { width, height, light }: Light,
  white: number,
): DensityGrid & { cell: readonly [number, number] } {
  const columns = Math.min(width, GRID_COLUMNS);
  const rows = Math.min(height, GRID_ROWS);
  const density = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const mean = meanOf(light, width, span(column, columns, width), span(row, rows, height));
      density[row * columns + column] = Math.log10(white / Math.max(LEAST_LIGHT, mean));
    }
  return { columns, rows, density, cell: [width / columns, height / rows] };
}

function span(at: number, count: number, size: number): [from: number, to: number] {
  return [Math.floor((at * size) / count), Math.floor(((at + 1) * size) / count)];
}

function meanOf(
  light: Float32Array,
  width: number,
  [left, right]: readonly [number, number],
  [top, bottom]: readonly [number, number],
): number {
  let sum = 0;
  for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) sum += light[y * width + x]!;
  return sum / ((right - left) * (bottom - top));
}
