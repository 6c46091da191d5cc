import { shorten } from '../page-text.js';
import { element, lineBetween, textAt } from '../svg.js';
import { numberMark } from './figure.js';
import type { WorkLine } from './work.js';

/** Columns, in millimetres from the table's left edge. */
const columns = { pedal: 2.2, mark: 8, what: 13, filter: 92, stops: 138, seconds: 182, width: 182 } as const;

export const tableBounds = { tallestRowMm: 6.2, shortestRowMm: 3 } as const;

/** The order of work, a row a line. */
export function workTable(lines: readonly WorkLine[], leftMm: number, topMm: number, rowMm: number): string {
  const size = Math.min(3.6, rowMm * 0.66);
  const head = headRow(leftMm, topMm + rowMm, size);
  const rows = lines.map((line, index) => row(line, leftMm, topMm + rowMm * (index + 2), rowMm, size));
  return head + rows.join('');
}

export function tableHeightMm(lineCount: number, rowMm: number): number {
  return rowMm * (lineCount + 1.4);
}

function headRow(leftMm: number, baseline: number, size: number): string {
  const small = size * 0.86;
  const end = { 'text-anchor': 'end' };
  return (
    textAt(leftMm + columns.what, baseline, small, 'order of work') +
    textAt(leftMm + columns.filter, baseline, small, 'filter') +
    textAt(leftMm + columns.stops, baseline, small, 'stops', end) +
    textAt(leftMm + columns.seconds, baseline, small, 'seconds of full light', end) +
    lineBetween(leftMm, baseline + size * 0.45, leftMm + columns.width, baseline + size * 0.45, 0.5)
  );
}

function row(line: WorkLine, leftMm: number, baseline: number, rowMm: number, size: number): string {
  const isPass = line.level === 'pass';
  const indent = isPass ? 0 : 5;
  const weight = isPass ? { 'font-weight': 'bold' } : {};
  const end = { ...weight, 'text-anchor': 'end' };
  const middle = baseline - size * 0.34;
  const rule = isPass
    ? lineBetween(
        leftMm,
        baseline - rowMm + size * 0.42,
        leftMm + columns.width,
        baseline - rowMm + size * 0.42,
        0.15,
      )
    : '';
  const what = shorten(line.what, size, columns.filter - columns.what - indent - 2);
  return [
    rule,
    line.pedalFirst ? pedalSign(leftMm + columns.pedal, middle, size) : '',
    line.area
      ? numberMark(
          line.area.kind,
          String(line.area.number),
          leftMm + columns.mark + indent,
          middle,
          Math.min(2.3, size * 0.62),
        )
      : '',
    textAt(leftMm + columns.what + indent, baseline, size, what, weight),
    line.filter === ''
      ? ''
      : textAt(leftMm + columns.filter, baseline, size, shorten(line.filter, size, 34), weight),
    line.stops === '' ? '' : textAt(leftMm + columns.stops, baseline, size, line.stops, end),
    textAt(leftMm + columns.seconds, baseline, size, seconds(line.doseMs), end),
  ].join('');
}

/** A pedal from the side: the lamp waits for it. */
export function pedalSign(x: number, y: number, size: number): string {
  const half = size * 0.5;
  return element('path', {
    d: `M${x - half} ${y + half * 0.7}h${2 * half}l${-2 * half} ${-half * 1.3}z`,
    fill: '#000',
  });
}

function seconds(ms: number): string {
  return (ms / 1000).toFixed(2);
}
