/** Where the patches of a strip lie, found by nothing but their number. */

/** Densities in rows, lightest patch at the left. */
export interface DensityGrid {
  readonly columns: number;
  readonly rows: number;
  readonly density: Float32Array;
}

/** In columns and rows of the grid; an edge is where it crosses the middle row. */
export interface FoundPatches {
  /** From the beginning of the first patch to the end of the last: one more than patches. */
  readonly edges: readonly number[];
  readonly topRow: number;
  readonly bottomRow: number;
  /** Columns by which an edge moves to the right from one row to the next. */
  readonly lean: number;
  /** Density by which each patch but the first is darker at its edge, hard steps cut. */
  readonly steps: readonly number[];
}

const STEEPEST_LEAN = 0.04;
const LEANS = 17;
/** A step across an edge counts to here, so that one object of the picture does not outweigh an edge that all rows have. */
const HARDEST_STEP = 0.12;
const STEEPEST_STEP = 1;
/** What patches of unequal width cost, as (log of the ratio) squared. */
const UNEQUAL_COST = 0.12;
const NARROWEST = 0.5;
const WIDEST = 1.7;
/** Of the way to the end of the last patch: the border, or a lid, takes the rest. */
const LEAST_FILLED = 0.6;
const MEAN_WIDTHS = 11;

/** @returns undefined where no part of the picture is darker than the paper. */
export function findPatches(grid: DensityGrid, patches: number): FoundPatches | undefined {
  const [topRow, bottomRow] = darkRows(grid);
  const end = endOfPicture(grid, topRow, bottomRow);
  if (bottomRow - topRow < 4 || end < patches * 4) return undefined;
  const { lean, steps } = sharpest(
    Array.from({ length: LEANS }, (_, at) => {
      const lean = STEEPEST_LEAN * ((2 * at) / (LEANS - 1) - 1);
      return { lean, steps: stepScores(grid, topRow, bottomRow, lean) };
    }),
  );
  const best = bestPartition(steps, end, patches);
  if (best === undefined) return undefined;
  const { edges } = best;
  return { edges, topRow, bottomRow, lean, steps: edges.slice(1, -1).map((edge) => steps[edge]!) };
}

interface Leaning {
  readonly lean: number;
  readonly steps: Float32Array;
}

/** Along the edges themselves all their steps fall into few columns. */
function sharpest(leanings: readonly Leaning[]): Leaning {
  const sharpness = ({ steps }: Leaning) => steps.reduce((sum, step) => sum + Math.max(0, step) ** 2, 0);
  const all = leanings.map(sharpness);
  return leanings[all.indexOf(Math.max(...all))]!;
}

/** The rows of the patches, by their darker end. */
export function darkRows(grid: DensityGrid): [top: number, bottom: number] {
  return darkSpan(profileOfRows(grid), 0.35);
}

/** Mean density of each row over the darker end. */
function profileOfRows({ columns, rows, density }: DensityGrid): number[] {
  const from = Math.floor(columns * 0.55);
  return Array.from({ length: rows }, (_, row) => {
    let sum = 0;
    for (let column = from; column < columns; column++) sum += density[row * columns + column]!;
    return sum / (columns - from);
  });
}

/** The first and last place where the profile is at least a share of its highest. */
function darkSpan(profile: readonly number[], share: number): [from: number, to: number] {
  const level = share * Math.max(...profile);
  const from = profile.findIndex((value) => value >= level);
  return [from, profile.findLastIndex((value) => value >= level) + 1];
}

/** The right end of the last patch: after it is white paper, or the end of the frame. */
export function endOfPicture({ columns, density }: DensityGrid, topRow: number, bottomRow: number): number {
  const quarter = Math.floor((bottomRow - topRow) / 4);
  const profile = Array.from({ length: columns }, (_, column) => {
    let sum = 0;
    for (let row = topRow + quarter; row < bottomRow - quarter; row++)
      sum += density[row * columns + column]!;
    return sum / (bottomRow - topRow - 2 * quarter);
  });
  return darkSpan(profile, 0.5)[1];
}

/** For each column the mean over rows of how much darker it is on its right than on its left, hard steps cut. */
function stepScores(grid: DensityGrid, topRow: number, bottomRow: number, lean: number): Float32Array {
  const { columns, density } = grid;
  const reach = Math.max(2, Math.round(columns * 0.014));
  const scores = new Float32Array(columns);
  const plain = new Float32Array(columns);
  const sums = new Float64Array(columns + 1);
  const middle = (topRow + bottomRow) / 2;
  const inset = Math.ceil((bottomRow - topRow) * 0.06);
  for (let row = topRow + inset; row < bottomRow - inset; row++) {
    for (let column = 0; column < columns; column++)
      sums[column + 1] = sums[column]! + density[row * columns + column]!;
    const shift = Math.round(lean * (row - middle));
    for (let column = 0; column < columns; column++) {
      const at = Math.min(columns, Math.max(0, column + shift));
      const [left, right] = [Math.max(0, at - reach), Math.min(columns, at + reach)];
      if (at - left < 1 || right - at < 1) continue;
      const step = (sums[right]! - sums[at]!) / (right - at) - (sums[at]! - sums[left]!) / (at - left);
      scores[column]! += Math.max(-HARDEST_STEP, Math.min(HARDEST_STEP, step));
      plain[column]! += Math.max(-STEEPEST_STEP, Math.min(STEEPEST_STEP, step));
    }
  }
  const count = Math.max(1, bottomRow - topRow - 2 * inset);
  return onePerEdge(scores, plain, reach).map((score) => score / count);
}

/** Cut steps make a hard edge look like many side by side: away from where it is steepest they count less. */
function onePerEdge(scores: Float32Array, plain: Float32Array, reach: number): Float32Array {
  return scores.map((score, column) => {
    const steepest = Math.max(...plain.subarray(Math.max(0, column - reach), column + reach + 1));
    return score > 0 && steepest > 0 ? score * Math.max(0, plain[column]! / steepest) ** 2 : score;
  });
}

interface Partition {
  readonly edges: readonly number[];
  readonly score: number;
}

/** The edges whose steps, less what unequal widths cost, come to the most: exact, for each of some mean widths. */
function bestPartition(steps: Float32Array, end: number, patches: number): Partition | undefined {
  let best: Partition | undefined;
  for (let at = 0; at < MEAN_WIDTHS; at++) {
    const meanWidth = (end / patches) * (LEAST_FILLED + ((1 - LEAST_FILLED) * at) / (MEAN_WIDTHS - 1));
    const found = partition(steps, end, patches, meanWidth);
    if (found !== undefined && (best === undefined || found.score > best.score)) best = found;
  }
  return best;
}

/** Dynamic programming from the right: `best[column]` is the most from an edge there to the end. */
function partition(
  steps: Float32Array,
  end: number,
  patches: number,
  meanWidth: number,
): Partition | undefined {
  const [least, most] = [Math.max(2, Math.floor(meanWidth * NARROWEST)), Math.ceil(meanWidth * WIDEST)];
  const costs = Float64Array.from(
    { length: most + 1 },
    (_, width) => UNEQUAL_COST * Math.log(width / meanWidth) ** 2,
  );
  let best = new Float64Array(end + 1).fill(Number.NEGATIVE_INFINITY);
  best[end] = 0;
  const chosen: Int32Array[] = [];
  for (let patch = patches - 1; patch >= 0; patch--) {
    const next = new Float64Array(end + 1).fill(Number.NEGATIVE_INFINITY);
    const choice = new Int32Array(end + 1);
    for (let from = 0; from < end; from++) {
      if (from > end - least * (patches - patch)) break;
      const gain = patch === 0 ? startGain(steps, from) : steps[from]!;
      for (let width = least; width <= most && from + width <= end; width++) {
        const score = best[from + width]! - costs[width]! + gain;
        if (score > next[from]!) {
          next[from] = score;
          choice[from] = from + width;
        }
      }
    }
    chosen.unshift(choice);
    best = next;
  }
  const start = best.indexOf(Math.max(...best));
  if (start < 0 || !Number.isFinite(best[start]!)) return undefined;
  const edges = [start];
  for (const choice of chosen) edges.push(choice[edges.at(-1)!]!);
  return { edges, score: best[start]! };
}

/** Where the first patch begins the border ends, if there is one; a first patch without tone shows nothing. */
function startGain(steps: Float32Array, from: number): number {
  return from === 0 ? 0 : steps[from]!;
}
