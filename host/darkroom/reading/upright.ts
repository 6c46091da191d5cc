import type { DensityGrid } from './find-patches.js';

/** A picture of light turned so that patches stand side by side, and how to find a place of it in the scan. */
export interface Upright {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
  /** The scan's pixel for a place of this picture. */
  readonly inScan: (x: number, y: number) => readonly [x: number, y: number];
  /** What of the scan the patches follow each other along. */
  readonly along: 'x' | 'y';
  readonly mirrored: boolean;
}

interface Light {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
}

/** Turned so that the lightest patch is at the left. */
export function upright(scan: Light): Upright {
  const across = profile(scan, true);
  const down = profile(scan, false);
  const along = spreadOf(across) >= spreadOf(down) ? 'x' : 'y';
  return turned(scan, along, isDarkFirst(along === 'x' ? across : down));
}

export function turned({ width, height, light }: Light, along: 'x' | 'y', mirrored: boolean): Upright {
  const size = along === 'x' ? { width, height } : { width: height, height: width };
  const place = (x: number): number => (mirrored ? size.width - 1 - x : x);
  const inScan = (x: number, y: number): readonly [number, number] =>
    along === 'x' ? [place(x), y] : [y, place(x)];
  if (along === 'x' && !mirrored) return { ...size, light, inScan, along, mirrored };
  const out = new Float32Array(light.length);
  for (let y = 0; y < size.height; y++)
    for (let x = 0; x < size.width; x++) {
      const [column, row] = inScan(x, y);
      out[y * size.width + x] = light[row * width + column]!;
    }
  return { ...size, light: out, inScan, along, mirrored };
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

function spreadOf(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
}

function isDarkFirst(profile: readonly number[]): boolean {
  const half = Math.floor(profile.length / 2);
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  return mean(profile.slice(0, half)) < mean(profile.slice(half));
}

/** Below this nothing is told apart. */
export const LEAST_LIGHT = 0.0005;
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
