import type { DensityGrid, FoundPatches } from './find-patches.js';

/** A grid of a picture, and how many of its pixels a cell is. */
type PictureGrid = DensityGrid & { readonly cell: readonly [number, number] };

/** Paper before the first patch is white; what has a tone there is a patch that the strip should not have. */
export function hasToneBefore(
  { columns, rows, density }: DensityGrid,
  { edges, topRow, bottomRow }: FoundPatches,
): boolean {
  const [first, second] = [edges[0]!, edges[1]!];
  const [from, to] = [first - 0.5 * (second - first), first - 0.2 * (second - first)].map(Math.round) as [
    number,
    number,
  ];
  if (from < 0 || to <= from) return false;
  const levelOf = (row: number) => {
    const values = density.slice(row * columns + from, row * columns + to).sort();
    return values[values.length >> 1]!;
  };
  const beside = [topRow - 3, bottomRow + 2].filter((row) => row >= 0 && row < rows).map(levelOf);
  const paper = beside.length > 0 ? Math.min(...beside) : 0;
  return levelOf(Math.round((topRow + bottomRow) / 2)) - paper > NEARLY_WHITE;
}
const NEARLY_WHITE = 0.05;

/** Whether white paper as wide as a patch lies before the first one, and no such room on any other side of the strip. */
export function hasRoomBefore(
  { columns, rows, cell: [width, height] }: PictureGrid,
  { edges, topRow, bottomRow }: FoundPatches,
): boolean {
  const [first, last] = [edges[0]!, edges.at(-1)!];
  const patch = (last - first) / (edges.length - 1);
  const sides = [width * (columns - last), height * topRow, height * (rows - bottomRow)];
  return width * first - Math.max(...sides) > ROOM_SHARE * width * patch;
}
/** Of a patch's width: hands lay them unevenly. */
const ROOM_SHARE = 0.6;
