import stringWidth from 'string-width';
import { cleanText } from './clean-text.js';

export interface Column {
  readonly head: string;
  /** Figures stand to the right, words to the left. */
  readonly align?: 'left' | 'right';
}

const GAP = '  ';

/** Rows under their heads, in columns as wide as their widest cell; every cell is cleaned for the terminal. */
export function table(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const cells = [
    columns.map((column) => column.head),
    ...rows.map((row) => row.map((cell) => cleanText(cell))),
  ];
  const widths = columns.map((_, at) => Math.max(...cells.map((row) => stringWidth(row[at] ?? ''))));
  const line = (row: readonly string[]) =>
    columns.map((column, at) => pad(row[at] ?? '', widths[at]!, column.align)).join(GAP);
  return cells.map((row) => line(row).trimEnd()).join('\n');
}

function pad(cell: string, width: number, align: 'left' | 'right' = 'left'): string {
  const blank = ' '.repeat(Math.max(0, width - stringWidth(cell)));
  return align === 'right' ? blank + cell : cell + blank;
}
