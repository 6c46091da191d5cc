import { LEAST_LIGHT } from './light.js';
import type { Upright } from './upright.js';

/** Pixels of the side of a square that is looked at by itself. */
const TILE = 32;
/** A step across a square, its slope taken away, comes back after more than twice this. */
const LONGEST_LAG = 6;
/** Of a square's pixels with those half a wave further on, and a whole one: noise has neither, an edge does not come back. */
const TURNED_BACK = -0.4;
const CAME_BACK = 0.4;
/** In log10 of the light, one deviation. */
const LEAST_WAVE = 0.02;
/** A square with an edge in it shows none, and narrow patches leave few without. */
const WAVY_SHARE = 0.12;

/** A pattern of waves that comes back every few pixels over much of the picture: moire. */
export function hasWaves({ width, height, light }: Upright): boolean {
  let [tiles, wavy] = [0, 0];
  for (let top = 0; top + TILE <= height; top += TILE)
    for (let left = 0; left + TILE <= width; left += TILE) {
      tiles++;
      if (isWavy(tileOf(light, width, left, top))) wavy++;
    }
  return tiles > 0 && wavy / tiles >= WAVY_SHARE;
}

/** Log of the light without its mean and slopes. */
function tileOf(light: Float32Array, width: number, left: number, top: number): Float64Array {
  const tile = new Float64Array(TILE * TILE);
  for (let y = 0; y < TILE; y++)
    for (let x = 0; x < TILE; x++)
      tile[y * TILE + x] = Math.log10(Math.max(LEAST_LIGHT, light[(top + y) * width + left + x]!));
  const centre = (TILE - 1) / 2;
  let [mean, alongX, alongY] = [0, 0, 0];
  tile.forEach((value, at) => {
    mean += value;
    alongX += value * ((at % TILE) - centre);
    alongY += value * (Math.floor(at / TILE) - centre);
  });
  const spread = (TILE ** 2 * (TILE ** 2 - 1)) / 12;
  return tile.map(
    (value, at) =>
      value -
      mean / TILE ** 2 -
      (alongX * ((at % TILE) - centre) + alongY * (Math.floor(at / TILE) - centre)) / spread,
  );
}

function isWavy(tile: Float64Array): boolean {
  const power = tile.reduce((sum, value) => sum + value * value, 0) / tile.length;
  if (power < LEAST_WAVE ** 2) return false;
  for (let lag = 2; lag <= LONGEST_LAG; lag++)
    for (const [right, down] of [
      [lag, 0],
      [0, lag],
    ] as const)
      if (
        alike(tile, right, down) < TURNED_BACK * power &&
        alike(tile, 2 * right, 2 * down) > CAME_BACK * power
      )
        return true;
  return false;
}

function alike(tile: Float64Array, right: number, down: number): number {
  let sum = 0;
  for (let y = 0; y + down < TILE; y++)
    for (let x = 0; x + right < TILE; x++) sum += tile[y * TILE + x]! * tile[(y + down) * TILE + x + right]!;
  return sum / ((TILE - right) * (TILE - down));
}
