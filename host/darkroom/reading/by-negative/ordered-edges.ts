/** Where the patches of a strip end, by what each column should show under each patch's light. */

/** In rows; light as log10 of its share of what fell with no film, NaN where none fell. */
export interface LitGrid {
  readonly columns: number;
  readonly rows: number;
  readonly density: Float32Array;
  readonly lightLog: Float32Array;
}

export interface OrderedEdges {
  /** Columns, one more than patches. */
  readonly edges: readonly number[];
  /** Mean of what a pixel lies off what it should show. */
  readonly miss: number;
}

/** A hair or a finger counts to here. */
const MOST_MISS = 0.3;
/** What patches of unequal width cost, in columns that are wholly wrong, as (log of the ratio) squared. */
const UNEQUAL_COST = 10;
const NARROWEST = 0.45;
const WIDEST = 1.8;
/** A column of paper that may be white as border or as patch is taken for patch. */
const BORDER_PRICE = 0.002;

/**
 * The most likely edges: exact, by dynamic programming over border, patches in their order, border.
 * @param toneOf the density that such light gives in a patch.
 */
export function orderedEdges(
  grid: LitGrid,
  patches: number,
  lean: number,
  toneOf: (patch: number, lightLog: number) => number,
  meanWidth: number,
): OrderedEdges | undefined {
  const { columns } = grid;
  const sums = missSums(grid, patches, lean, toneOf);
  const [least, most] = [Math.max(2, Math.floor(meanWidth * NARROWEST)), Math.ceil(meanWidth * WIDEST)];
  const border = sums[patches]!;
  // best[x]: the least for columns before x, when so many patches end there.
  let best = Float64Array.from({ length: columns + 1 }, (_, x) => border[x]!);
  const chosen: Int32Array[] = [];
  for (let patch = 0; patch < patches; patch++) {
    const next = new Float64Array(columns + 1).fill(Number.POSITIVE_INFINITY);
    const from = new Int32Array(columns + 1);
    const own = sums[patch]!;
    for (let end = least; end <= columns; end++)
      for (let width = least; width <= most && width <= end; width++) {
        const price = UNEQUAL_COST * Math.log(width / meanWidth) ** 2 * MOST_MISS;
        const cost = best[end - width]! + own[end]! - own[end - width]! + price;
        if (cost < next[end]!) {
          next[end] = cost;
          from[end] = end - width;
        }
      }
    chosen.unshift(from);
    best = next;
  }
  return traced(best, border, chosen, columns);
}

function traced(
  best: Float64Array,
  border: Float64Array,
  chosen: readonly Int32Array[],
  columns: number,
): OrderedEdges | undefined {
  const totals = best.map((cost, x) => cost + border[columns]! - border[x]!);
  const end = totals.indexOf(Math.min(...totals));
  if (end < 0 || !Number.isFinite(totals[end]!)) return undefined;
  const edges = [end];
  for (const from of chosen) edges.unshift(from[edges[0]!]!);
  return { edges, miss: totals[end]! / columns };
}

/** For each patch, and last for the border, the sum over columns so far of the mean miss. */
function missSums(
  { columns, rows, density, lightLog }: LitGrid,
  patches: number,
  lean: number,
  toneOf: (patch: number, lightLog: number) => number,
): Float64Array[] {
  const middle = rows / 2;
  const counts = new Float64Array(columns);
  const misses = Array.from({ length: patches + 1 }, () => new Float64Array(columns + 1));
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const x = Math.round(column - lean * (row - middle));
      if (x < 0 || x >= columns) continue;
      const at = row * columns + column;
      const tone = density[at]!;
      const light = lightLog[at]!;
      counts[x]!++;
      for (let patch = 0; patch < patches; patch++)
        misses[patch]![x + 1]! += Math.min(
          MOST_MISS,
          Math.abs(tone - (Number.isNaN(light) ? 0 : toneOf(patch, light))),
        );
      misses[patches]![x + 1]! += Math.min(MOST_MISS, Math.abs(tone) + BORDER_PRICE);
    }
  for (const sums of misses)
    for (let x = 0; x < columns; x++) sums[x + 1] = sums[x]! + sums[x + 1]! / Math.max(1, counts[x]!);
  return misses;
}
