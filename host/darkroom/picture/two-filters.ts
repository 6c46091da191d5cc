import { Paper } from '../paper/paper.js';
import type { Cells } from './light-grid.js';
import { STEPS, TABLE_LENGTH } from './log-table.js';

/** Shares of the second filter that are told apart: so many that no grey is out by more than one. */
const LEVELS = 1024;

/** What a paper makes of the light of two filters: a grey for each share of the second, and for their light together. */
export interface TwoFilters {
  /** A table by the place of the light together, one after another for each level. */
  readonly greys: Uint8Array;
  /** @param corners levels, as `levelsAt` tells them. */
  makeLevelsOf(cells: Cells, corners: Float32Array): void;
}

/** Light through one filter, and how the paper's layers see it: each against the middle one. */
export interface FilteredLight extends FilterSense {
  readonly luxSeconds: Float64Array;
}

interface FilterSense {
  readonly filter: string;
  readonly sensitivity: number;
  readonly byLayer: readonly number[];
}

export function senseOf(paper: Paper, filter: string): FilterSense {
  const logs = [...paper.logSensitivities(filter)];
  const middle = logs[(Paper.layerCount - 1) / 2]!;
  return { filter, sensitivity: 10 ** middle, byLayer: logs.map((log) => 10 ** (log - middle)) };
}

/** The second's share of the light of both at each corner, in levels; in the middle of one where it is exact. */
export function levelsAt([first, second]: readonly [FilteredLight, FilteredLight]): Float32Array {
  const levels = new Float32Array(first.luxSeconds.length);
  for (let corner = 0; corner < levels.length; corner++) {
    const ofSecond = second.luxSeconds[corner]! * second.sensitivity;
    const both = first.luxSeconds[corner]! * first.sensitivity + ofSecond;
    levels[corner] = 0.5 + (both === 0 ? 0 : (LEVELS * ofSecond) / both);
  }
  return levels;
}

/**
 * The tables of two filters, each made when a picture first comes to its share: turning the base needs none anew.
 * @param densities each layer's by its light, @param greys by the sum of all layers.
 */
export function twoFilters(
  [first, second]: readonly [FilterSense, FilterSense],
  densities: readonly Uint16Array[],
  greys: Uint8Array,
): TwoFilters {
  const layers = densities.map(
    (table, layer) => new LayerTable(table, first.byLayer[layer]!, second.byLayer[layer]!),
  );
  const made = new Uint8Array(LEVELS + 1);
  const all = new Uint8Array((LEVELS + 1) * TABLE_LENGTH);
  const makeLevel = (level: number) => {
    made[level] = 1;
    const start = level * TABLE_LENGTH;
    fillLevel(all.subarray(start, start + TABLE_LENGTH), layers, level / LEVELS, greys);
  };
  const makeLevelsOf = ({ across, count }: Cells, corners: Float32Array) => {
    for (let corner = 0; corner < count - across - 1; corner++) {
      const [left, right] = [corners[corner]!, corners[corner + 1]!];
      const [under, opposite] = [corners[corner + across]!, corners[corner + across + 1]!];
      const highest = Math.max(left, right, under, opposite);
      for (let level = Math.floor(Math.min(left, right, under, opposite)); level <= highest; level++)
        if (made[level] === 0) makeLevel(level);
    }
  };
  return { greys: all, makeLevelsOf };
}

/** Only where a layer still changes is anything added up; below is paper white, above the deepest black. */
function fillLevel(table: Uint8Array, layers: readonly LayerTable[], share: number, greys: Uint8Array): void {
  const shifts = layers.map((layer) => layer.shiftAt(share));
  const from = Math.max(0, Math.min(...layers.map((layer, index) => layer.from - shifts[index]!)));
  const to = Math.min(TABLE_LENGTH, Math.max(...layers.map((layer, index) => layer.to - shifts[index]!)));
  const sums = new Uint16Array(to - from);
  for (const [index, layer] of layers.entries()) layer.addTo(sums, from + shifts[index]!);
  table.fill(greys[sums[0]!]!, 0, from);
  for (let place = from; place < to; place++) table[place] = greys[sums[place - from]!]!;
  table.fill(greys[sums.at(-1)!]!, to);
}

/** One layer's densities by its light, with where they change, and what it senses of either filter. */
class LayerTable {
  readonly from: number;
  readonly to: number;

  constructor(
    readonly densities: Uint16Array,
    readonly first: number,
    readonly second: number,
  ) {
    this.from = densities.findIndex((density) => density !== densities[0]);
    this.to = densities.findLastIndex((density) => density !== densities.at(-1)) + 2;
  }

  /** How far this layer is ahead of the light of both together. */
  shiftAt(share: number): number {
    return Math.round(STEPS * Math.log10((1 - share) * this.first + share * this.second));
  }

  addTo(sums: Uint16Array, firstPlace: number): void {
    const { densities } = this;
    const last = TABLE_LENGTH - 1;
    for (let index = 0; index < sums.length; index++)
      sums[index]! += densities[Math.min(last, Math.max(0, firstPlace + index))]!;
  }
}
