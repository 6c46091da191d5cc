import { jsonText } from '../../json-text.js';
import { isExposure, type LogEntry } from '../../records/log/log-entry.js';
import { csvCell } from './csv-cell.js';

const columns = [
  'night',
  'at',
  'board',
  'boot',
  'seq',
  'kind',
  'recipe',
  'sheet',
  'pass',
  'patch',
  'label',
  'filter',
  'plannedMs',
  'onMs',
  'doseMs',
  'outcome',
  'pauses',
  'details',
] as const;

/** The log as RFC 4180 has it, heads first; what is no exposure has its particulars as JSON in the last column. */
export async function* csvLines(pages: AsyncIterable<readonly LogEntry[]>): AsyncGenerator<string> {
  yield lineOf(columns);
  for await (const page of pages) yield page.map((entry) => lineOf(rowOf(entry))).join('');
}

function lineOf(row: readonly string[]): string {
  return `${row.map(csvCell).join(',')}\r\n`;
}

function rowOf(entry: LogEntry): string[] {
  const fields = (isExposure(entry)
    ? entry
    : { ...entry, details: jsonText(entry.details) }) as unknown as Record<string, unknown>;
  return columns.map((column) => String(fields[column] ?? ''));
}
