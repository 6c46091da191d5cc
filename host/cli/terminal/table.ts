import stringWidth from 'string-width';
import { cleanText } from './clean-text.js';

export interface Column {
  readonly head: string;
  /** Figures stand to the right, words to the left. */
  readonly align?: 'left' | 'right';
}

const GAP = '  ';

/**
 * Rows under their heads, in columns as wide as their widest cell; every cell is cleaned for the terminal. The last
 * cell of a row that ends early runs on over the columns that it leaves empty.
 */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const cells = [
    columns.map((column) => column.head),
    ...rows.map((row) => row.map((cell) => cleanText(cell))),
  ];
  const widths = columns.map((_, at) => Math.max(...cells.map((row) => widthIn(row, at, columns.length))));
  const line = (row: readonly string[]) =>
    columns.map((column, at) => pad(row[at] ?? '', widths[at]!, column.align)).join(GAP);
  return cells.map((row) => line(row).trimEnd()).join('\n');
}

function widthIn(row: readonly string[], at: number, columns: number): number {
  const runsOn = at === row.length - 1 && at < columns - 1;
  return runsOn ? 0 : stringWidth(row[at] ?? '');
}

function pad(cell: string, width: number, align: 'left' | 'right' = 'left'): string {
  const blank = ' '.repeat(Math.max(0, width - stringWidth(cell)));
  return align === 'right' ? blank + cell : cell + blank;
}
