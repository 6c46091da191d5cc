import { coverOf } from '../sheet/cover.js';
import type { SheetLight, Tool } from '../sheet/sheet.js';
import type { Kept } from './kept.js';
import { placeOfLight } from './log-table.js';

/** Tools have soft rims, so their light is worked out on a grid of this many pixels and spread between. */
const WIDEST_CELL_PIXELS = 16;
const CELLS_PER_RIM = 5;

/** The part of a picture that one band takes. */
export interface Part {
  readonly width: number;
  readonly height: number;
  readonly fromColumn: number;
  readonly toColumn: number;
}

/** Pixels of a part, from its own left: from the first up to, and without, the last. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The corners of the cells into which a part is divided: exact there, linear in the light's logarithm between them. */
export class Cells {
  readonly cellPixels: number;
  readonly across: number;
  readonly count: number;
  readonly #part: Part;

  constructor(lights: readonly SheetLight[], part: Part) {
    this.#part = part;
    this.cellPixels = cellPixels(lights, Math.min(part.width, part.height));
    this.across = Math.ceil((part.toColumn - part.fromColumn) / this.cellPixels) + 1;
    this.count = this.across * (Math.ceil(part.height / this.cellPixels) + 1);
  }

  /** Each filter's light at every corner, in lux seconds. */
  lightByFilter(lights: readonly SheetLight[], shares: Kept<Float32Array>): Map<string, Float64Array> {
    const sums = new Map<string, Float64Array>();
    for (const { filter, luxSeconds, tool } of lights) {
      const sum = sums.get(filter) ?? new Float64Array(this.count);
      sums.set(filter, sum);
      if (tool === undefined) for (let corner = 0; corner < sum.length; corner++) sum[corner]! += luxSeconds;
      else {
        const share = shares.get(this.#keyOf(tool), () => this.#sharesOf(tool));
        for (let corner = 0; corner < sum.length; corner++) sum[corner]! += luxSeconds * share[corner]!;
      }
    }
    return sums;
  }

  /** Around every cell that has some of this light; empty where there is none. */
  boxOf(luxSeconds: Float64Array): Box {
    const { width, height, fromColumn, toColumn } = this.#part;
    const box = { left: width, top: height, right: 0, bottom: 0 };
    for (let corner = 0; corner < luxSeconds.length; corner++) {
      if (luxSeconds[corner] === 0) continue;
      const [column, row] = [corner % this.across, Math.floor(corner / this.across)];
      box.left = Math.min(box.left, Math.max(0, (column - 1) * this.cellPixels));
      box.top = Math.min(box.top, Math.max(0, (row - 1) * this.cellPixels));
      box.right = Math.max(box.right, Math.min(toColumn - fromColumn, (column + 1) * this.cellPixels));
      box.bottom = Math.max(box.bottom, Math.min(height, (row + 1) * this.cellPixels));
    }
    return box;
  }

  #keyOf({ shape, shades }: Tool): string {
    const { fromColumn, toColumn } = this.#part;
    return `${fromColumn} ${toColumn} ${this.cellPixels} ${shades} ${JSON.stringify(shape)}`;
  }

  #sharesOf({ shape, shades }: Tool): Float32Array {
    const { width, height, fromColumn } = this.#part;
    const cover = coverOf(shape, width / height);
    const shares = new Float32Array(this.count);
    for (let corner = 0; corner < shares.length; corner++) {
      const x = fromColumn + (corner % this.across) * this.cellPixels + 0.5;
      const y = Math.floor(corner / this.across) * this.cellPixels + 0.5;
      const covered = cover((100 * x) / width, (100 * y) / height);
      shares[corner] = shades === 'inside' ? 1 - covered : covered;
    }
    return shares;
  }
}

/** Small enough that the sharpest rim spans several cells. */
function cellPixels(lights: readonly SheetLight[], shortSidePixels: number): number {
  const rims = lights.map(({ tool }) => rimPercent(tool?.shape));
  const sharpestPixels = (Math.min(...rims, 100) / 100) * shortSidePixels;
  return Math.min(WIDEST_CELL_PIXELS, Math.max(1, Math.floor(sharpestPixels / CELLS_PER_RIM)));
}

function rimPercent(shape: { softPercent: number } | { depthPercent: number } | undefined): number {
  if (shape === undefined) return 100;
  return 'softPercent' in shape ? shape.softPercent : shape.depthPercent;
}

/** Parts of a place while it is added up: the tables' 2^14 places and these fit a whole number of 32 bits. */
const FINE_BITS = 16;
const FINE = 2 ** FINE_BITS;

/** How much one layer of the paper makes of the light of one filter. */
export interface Sensed {
  readonly luxSeconds: Float64Array;
  readonly sensitivity: number;
}

/** The light at the easel at each corner, as a place in the tables before the negative is added. */
export function placesAt({ count }: Cells, sensed: readonly Sensed[]): Float32Array {
  const places = new Float32Array(count);
  for (let corner = 0; corner < count; corner++) {
    let sum = 0;
    for (const { luxSeconds, sensitivity } of sensed) sum += sensitivity * luxSeconds[corner]!;
    places[corner] = placeOfLight(sum);
  }
  return places;
}

/** What is known at the corners of the cells, spread over the pixels between. */
export class CellGrid {
  readonly #cell: number;
  readonly #across: number;
  readonly #corners: Float32Array;
  readonly #row: Float32Array;
  readonly #wholeRow: Int32Array;

  constructor({ cellPixels, across }: Cells, corners: Float32Array) {
    this.#cell = cellPixels;
    this.#across = across;
    this.#corners = corners;
    this.#row = new Float32Array((across - 1) * cellPixels);
    this.#wholeRow = new Int32Array(this.#row.length);
  }

  /** The value for every column of pixel row `row`; the same buffer each time. */
  row(row: number): Float32Array {
    const cell = this.#cell;
    const upper = Math.floor(row / cell) * this.#across;
    const share = (row % cell) / cell;
    let left = this.#between(upper, share);
    for (let corner = 1; corner < this.#across; corner++) {
      const right = this.#between(upper + corner, share);
      const slope = (right - left) / cell;
      const start = (corner - 1) * cell;
      for (let step = 0; step < cell; step++) this.#row[start + step] = left + slope * step;
      left = right;
    }
    return this.#row;
  }

  /** The same in whole numbers, which is quicker; the same buffer each time. */
  wholeRow(row: number): Int32Array {
    const cell = this.#cell;
    const upper = Math.floor(row / cell) * this.#across;
    const share = (row % cell) / cell;
    const places = this.#wholeRow;
    let left = this.#between(upper, share);
    for (let corner = 1; corner < this.#across; corner++) {
      const right = this.#between(upper + corner, share);
      const slope = (((right - left) * FINE) / cell) | 0;
      let place = (left * FINE) | 0;
      const end = corner * cell;
      for (let column = end - cell; column < end; column++) {
        places[column] = place >> FINE_BITS;
        place += slope;
      }
      left = right;
    }
    return places;
  }

  #between(upperIndex: number, share: number): number {
    const upper = this.#corners[upperIndex]!;
    return upper + share * (this.#corners[upperIndex + this.#across]! - upper);
  }
}
