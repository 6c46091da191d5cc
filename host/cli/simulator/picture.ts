import { limits } from '../../../shared-protocol/limits.js';
import type { SimulatedBoard } from '../../board/sim/simulated-board.js';
import { cleanText } from '../terminal/clean-text.js';
import { keyHelp, shortKeyHelp } from './keys.js';

export interface Size {
  readonly columns: number;
  readonly rows: number;
}

/** A board as it is seen; of a simulated one, what a picture needs. */
export type SeenBoard = Pick<SimulatedBoard, 'panel' | 'lampOn' | 'safelightOn' | 'powered'>;

/**
 * The board as lines that fit the terminal, as much of it as has room: one column is left free at the right, where
 * some terminals wrap, and one row at the bottom for the cursor.
 */
export function pictureOf(board: SeenBoard, size: Size): string[] {
  const panel = framed(board.panel.map((row) => cleanText(row)));
  const views = [
    [...panel, lights(board, '   '), '', ...keyHelp.split('\n')],
    [...panel, lights(board, ' '), ...shortKeyHelp],
    [...panel, lights(board, ' ')],
    [...board.panel.map((row) => cleanText(row)), lights(board, ' ')],
  ];
  const smallest = views.at(-1)!;
  return views.find((lines) => fits(lines, size)) ?? [tooSmall(smallest, size)];
}

function fits(lines: readonly string[], { columns, rows }: Size): boolean {
  return lines.length < rows && lines.every((line) => line.length < columns);
}

function tooSmall(smallest: readonly string[], { columns }: Size): string {
  const need = `${Math.max(...smallest.map((line) => line.length)) + 1} x ${smallest.length + 1}`;
  return `too small: needs ${need}`.slice(0, Math.max(columns - 1, 0));
}

function framed(rows: readonly string[]): string[] {
  const edge = `+${'-'.repeat(limits.displayColumns + 2)}+`;
  return [edge, ...rows.map((row) => `| ${row} |`), edge];
}

function lights({ lampOn, safelightOn, powered }: SeenBoard, gap: string): string {
  if (!powered) return 'NO POWER';
  return `${lampOn ? 'LAMP ON' : 'lamp off'}${gap}safelight ${safelightOn ? 'on' : 'off'}`;
}
