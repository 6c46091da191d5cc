import { type LitGrid, orderedEdges } from './ordered-edges.js';
import { type TonePixel, toneCells } from './tone-cells.js';
import { ToneCurve } from './tone-curve.js';

export interface FoundEdges {
  /** In columns of the grid, one more than patches. */
  readonly edges: readonly number[];
  readonly topRow: number;
  readonly bottomRow: number;
  /** Columns by which an edge moves to the right from one row to the next. */
  readonly lean: number;
  readonly miss: number;
  readonly columns: number;
}

const ROUNDS = 3;
const LEANS = [-0.03, -0.02, -0.01, 0, 0.01, 0.02, 0.03];
/** A row or column of the picture has a tone of this much, in this share of it. */
const TONE = 0.08;
const DARK_SHARE = 0.12;

/**
 * Edges and the paper's curve in turn: patches of like width give a first curve, the curve gives better edges, and these a
 * better curve.
 */
export function findEdges(grid: LitGrid, doseLogs: readonly number[]): FoundEdges | undefined {
  const box = printedBox(grid);
  const found = doseLogs
    .slice(1)
    .map((_, white) => edgesFrom(grid, box, white, doseLogs))
    .filter((each) => each !== undefined);
  return found.sort((one, other) => one.miss - other.miss)[0];
}

/** @param white so many patches may be as white as the border. */
function edgesFrom(
  grid: LitGrid,
  { left, right, top, bottom }: Box,
  white: number,
  doseLogs: readonly number[],
): FoundEdges | undefined {
  const patches = doseLogs.length;
  const meanWidth = (right - left) / (patches - white);
  const box = { left: left - white * meanWidth, top, bottom };
  if (meanWidth < 4 || bottom - top < 6 || box.left < -0.3 * meanWidth) return undefined;
  const inner = rowsOf(grid, top, bottom);
  let edges = Array.from({ length: patches + 1 }, (_, at) => box.left + at * meanWidth);
  let lean = 0;
  let miss = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const toneOf = tonesBy(inner, edges, lean, doseLogs);
    if (toneOf === undefined) return undefined;
    const tried = (round === ROUNDS - 1 ? LEANS : [lean]).map((each) => ({
      lean: each,
      found: orderedEdges(inner, patches, each, toneOf, meanWidth),
    }));
    const best = tried.reduce((one, other) =>
      (other.found?.miss ?? 9) < (one.found?.miss ?? 9) ? other : one,
    );
    if (best.found === undefined) return undefined;
    edges = [...best.found.edges];
    ({ lean } = best);
    ({ miss } = best.found);
  }
  return { edges, lean, miss, topRow: box.top, bottomRow: box.bottom, columns: grid.columns };
}

function rowsOf({ columns, density, lightLog }: LitGrid, top: number, bottom: number): LitGrid {
  const inset = Math.ceil((bottom - top) * 0.05);
  const [from, to] = [(top + inset) * columns, (bottom - inset) * columns];
  return {
    columns,
    rows: bottom - top - 2 * inset,
    density: density.subarray(from, to),
    lightLog: lightLog.subarray(from, to),
  };
}

/** The tone for each patch's light, by a curve through the pixels of the patches as they are thought to lie. */
function tonesBy(
  grid: LitGrid,
  edges: readonly number[],
  lean: number,
  doseLogs: readonly number[],
): ((patch: number, lightLog: number) => number) | undefined {
  const pixels = pixelsIn(grid, edges, lean);
  const cells = toneCells(pixels);
  if (cells.length < LEAST_CELLS) return undefined;
  const samples = cells.map(({ patch, filmLog, density, weight }) => ({
    log: doseLogs[patch]! + filmLog,
    density,
    weight,
  }));
  const curve = new ToneCurve(samples);
  const table = Float32Array.from({ length: Math.ceil((curve.toLog - curve.fromLog) * STEPS) + 1 }, (_, at) =>
    curve.at(curve.fromLog + at / STEPS),
  );
  return (patch, lightLog) => {
    const at = Math.round((doseLogs[patch]! + lightLog - curve.fromLog) * STEPS);
    return table[Math.max(0, Math.min(table.length - 1, at))]!;
  };
}
const STEPS = 100;
const LEAST_CELLS = 12;

function pixelsIn(
  { columns, rows, density, lightLog }: LitGrid,
  edges: readonly number[],
  lean: number,
): TonePixel[] {
  const pixels: TonePixel[] = [];
  for (let row = 0; row < rows; row++)
    for (let patch = 0; patch + 1 < edges.length; patch++) {
      const shift = lean * (row - rows / 2);
      const inset = 0.12 * (edges[patch + 1]! - edges[patch]!);
      const to = Math.min(columns - 1, edges[patch + 1]! - inset + shift);
      for (let x = Math.max(0, Math.ceil(edges[patch]! + inset + shift)); x <= to; x++) {
        const at = row * columns + x;
        if (!Number.isNaN(lightLog[at]!))
          pixels.push({ patch, filmLog: lightLog[at]!, density: density[at]! });
      }
    }
  return pixels;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Where tones are; a little white paper is in it where the picture itself is white. */
function printedBox({ columns, rows, density }: LitGrid): Box {
  const dark = (length: number, depth: number, at: (along: number, across: number) => number) =>
    Array.from({ length }, (_, along) => {
      let count = 0;
      for (let across = 0; across < depth; across++) count += density[at(along, across)]! > TONE ? 1 : 0;
      return count / depth;
    });
  const [left, right] = span(dark(columns, rows, (x, y) => y * columns + x));
  const [top, bottom] = span(dark(rows, columns, (y, x) => y * columns + x));
  return { left, right, top, bottom };
}

function span(shares: readonly number[]): [from: number, to: number] {
  return [
    Math.max(
      0,
      shares.findIndex((share) => share > DARK_SHARE),
    ),
    shares.findLastIndex((share) => share > DARK_SHARE) + 1,
  ];
}
