import type { Negative } from '../negative/negative.js';
import type { Box, CellGrid, Part } from './light-grid.js';
import { TABLE_LENGTH } from './log-table.js';

/** Each pixel by one look into the one table that all of the sheet has. */
export function fillRows(
  { samples }: Negative,
  steps: Float32Array,
  grid: CellGrid,
  { width, height, fromColumn, toColumn }: Part,
  greys: Uint8Array,
  pixels: Uint8Array,
): void {
  for (let row = 0; row < height; row++) {
    const light = grid.row(row);
    const start = row * width + fromColumn;
    for (let column = 0; column < toColumn - fromColumn; column++)
      pixels[start + column] = greys[(steps[samples[start + column]!]! + light[column]!) | 0]!;
  }
}

/** Each pixel by one look into the table of its level, but for those in `without`. */
export function fillRowsByLevels(
  { samples }: Negative,
  steps: Int16Array,
  { levels, places }: { levels: CellGrid; places: CellGrid },
  { width, height, fromColumn, toColumn }: Part,
  without: Box,
  greys: Uint8Array,
  pixels: Uint8Array,
): void {
  const across = toColumn - fromColumn;
  for (let row = 0; row < height; row++) {
    const isCut = row >= without.top && row < without.bottom;
    const level = levels.wholeRow(row);
    const place = places.wholeRow(row);
    const start = row * width + fromColumn;
    for (let column = 0; column < across; column++) {
      if (isCut && column === without.left) column = without.right;
      if (column >= across) break;
      pixels[start + column] =
        greys[level[column]! * TABLE_LENGTH + place[column]! + steps[samples[start + column]!]!]!;
    }
  }
}

/** One emulsion layer: its light, and density by log exposure. */
export interface Layer {
  readonly grid: CellGrid;
  readonly densities: Uint16Array;
}

/** The seven layers are written out: a loop over them takes three times as long (`npm run bench -- desk`). */
export function fillRowsByLayers(
  { samples }: Negative,
  steps: Int16Array,
  layers: readonly Layer[],
  { width, fromColumn }: Part,
  box: Box,
  greys: Uint8Array,
  pixels: Uint8Array,
): void {
  const [a, b, c, d, e, f, g] = layers.map(({ densities }) => densities) as SevenOf<Uint16Array>;
  for (let row = box.top; row < box.bottom; row++) {
    const lights = layers.map(({ grid }) => grid.wholeRow(row));
    const [atA, atB, atC, atD, atE, atF, atG] = lights as SevenOf<Int32Array>;
    const start = row * width + fromColumn;
    for (let column = box.left; column < box.right; column++) {
      const step = steps[samples[start + column]!]!;
      pixels[start + column] =
        greys[
          a[step + atA[column]!]! +
            b[step + atB[column]!]! +
            c[step + atC[column]!]! +
            d[step + atD[column]!]! +
            e[step + atE[column]!]! +
            f[step + atF[column]!]! +
            g[step + atG[column]!]!
        ]!;
    }
  }
}

type SevenOf<Each> = [Each, Each, Each, Each, Each, Each, Each];
