import { cleanText } from './clean-text.js';
import { linesOf, widthOf } from './text-width.js';

export interface Column {
  readonly head: string;
  /** Figures stand to the right, words to the left. */
  readonly align?: 'left' | 'right';
}

const GAP = '  ';

/** What a line has where nothing says how wide the terminal is. */
const USUAL_WIDTH = 80;
/** A column of words is not made narrower than this; the terminal breaks the line where even that is too much. */
const NARROWEST_WORDS = 20;

/**
 * Rows under their heads, in columns as wide as their widest cell; every cell and head is cleaned for the terminal. The last
 * cell of a row that ends early runs on over the columns that it leaves empty. A last column of words that does not
 * fit the width goes on at a word under itself.
 */
export function table(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  widthColumns: number = process.stdout.columns || USUAL_WIDTH,
): string {
  const cells = [columns.map(({ head }) => head), ...rows].map((row) => row.map((cell) => cleanText(cell)));
  const widths = columns.map((_, at) => Math.max(...cells.map((row) => widthIn(row, at, columns.length))));
  const line = (row: readonly string[]) =>
    columns.map((column, at) => pad(row[at] ?? '', widths[at]!, column.align)).join(GAP);
  const fitted = columns.at(-1)?.align === 'right' ? cells : wrapLast(cells, widths, widthColumns);
  return fitted.map((row) => line(row).trimEnd()).join('\n');
}

/** Each row, and below it rows that are empty but for what went on of its last cell. */
function wrapLast(cells: readonly (readonly string[])[], widths: readonly number[], widthColumns: number) {
  const before = widths.slice(0, -1);
  const left = widthColumns - before.reduce((sum, width) => sum + width + GAP.length, 0);
  const width = Math.max(NARROWEST_WORDS, left);
  return cells.flatMap((row) => {
    if (row.length < widths.length || widthOf(row.at(-1)!) <= width) return [row];
    const [first, ...more] = linesOf(row.at(-1)!, width);
    return [[...row.slice(0, -1), first!], ...more.map((text) => [...before.map(() => ''), text])];
  });
}

function widthIn(row: readonly string[], at: number, columns: number): number {
  const runsOn = at === row.length - 1 && at < columns - 1;
  return runsOn ? 0 : widthOf(row[at] ?? '');
}

function pad(cell: string, width: number, align: 'left' | 'right' = 'left'): string {
  const blank = ' '.repeat(Math.max(0, width - widthOf(cell)));
  return align === 'right' ? blank + cell : cell + blank;
}
