import { type DensityGrid, darkRows, endOfPicture } from './find-patches.js';

/** By so much, in density, a lid is lighter than paper all round the frame. */
const LEAST_DIFFERENCE = 0.015;
/** Paper is as light as the lightest parts to this. */
const NEARLY_WHITE = 0.12;
/** A border is even to this from one row to the next: where it is not, the blur of the patches' edge has not ended. */
const EVEN = 0.006;
/** A sheet's border changes by less to where it ends. */
const BORDER_ENDS = 0.012;

/**
 * The same, its whitest the paper, where that lies on a lid that is lighter still: the edge of the sheet is then none of a patch, which a
 * first patch nearly without tone would leave to be found there. As it is where no such lid is seen.
 */
export function withoutLighterLid<Grid extends DensityGrid>(grid: Grid): Grid {
  const { columns, rows, density } = grid;
  const [top, bottom] = darkRows(grid);
  if (bottom - top < 4) return grid;
  const end = endOfPicture(grid, top, bottom);
  const dark = { from: Math.floor(columns * 0.55), to: end };
  if (dark.to - dark.from < 4) return grid;
  const rowLevel = (row: number) =>
    medianOf(density.subarray(row * columns + dark.from, row * columns + dark.to));
  const above = plateau(rowLevel, top - 1, -1, rows);
  const below = plateau(rowLevel, bottom, 1, rows);
  const borders = [above, below].filter((border) => border !== undefined);
  if (borders.length === 0) return grid;
  const paper = Math.max(...borders.map(({ level }) => level));
  if (paper - darkestSide(grid) < LEAST_DIFFERENCE) return grid;
  const left = Math.min(...borders.map((border) => beginningOf(grid, border, dark.from)));
  const clipped = density.map((value, at) => (at % columns < left ? 0 : Math.max(0, value - paper)));
  return { ...grid, density: clipped };
}

interface Border {
  readonly row: number;
  readonly level: number;
}

/** The first even rows outwards from the patches, where these are nearly white. */
function plateau(
  levelOf: (row: number) => number,
  from: number,
  step: 1 | -1,
  rows: number,
): Border | undefined {
  const isRow = (row: number) => row >= 0 && row < rows;
  for (let row = from; isRow(row) && isRow(row + step); row += step) {
    const [level, next] = [levelOf(row), levelOf(row + step)];
    if (level < NEARLY_WHITE && Math.abs(next - level) < EVEN) return { row, level };
  }
  return undefined;
}

/** The darkest of the frame's four sides, each by its middle value. */
function darkestSide({ columns, rows, density }: DensityGrid): number {
  const column = (at: number) => density.filter((_, index) => index % columns === at);
  const row = (at: number) => density.subarray(at * columns, (at + 1) * columns);
  const sides = [row(0), row(rows - 1), column(0), column(columns - 1)];
  return Math.max(...sides.map(medianOf));
}

/** The column where the sheet begins, along a row of its border from the dark end. */
function beginningOf({ columns, density }: DensityGrid, { row, level }: Border, from: number): number {
  let column = from;
  const isPaper = (at: number) =>
    Math.abs(medianOf(density.subarray(row * columns + at - 2, row * columns + at + 1)) - level) <
    BORDER_ENDS;
  while (column > 2 && isPaper(column)) column--;
  return column > 2 ? column + 1 : 0;
}

function medianOf(values: Float32Array): number {
  const sorted = values.slice().sort();
  return sorted[sorted.length >> 1]!;
}
