import { isExposure, type LogEntry } from '../../records/log/log-entry.js';

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
export function csvOf(entries: readonly LogEntry[]): string {
  const rows = [columns as readonly string[], ...entries.map(rowOf)];
  return rows.map((row) => row.map(csvCell).join(',')).join('\r\n');
}

function rowOf(entry: LogEntry): string[] {
  const fields: Record<string, unknown> = isExposure(entry)
    ? { ...entry }
    : { ...entry, details: JSON.stringify(entry.details) };
  return columns.map((column) => String(fields[column] ?? ''));
}

// A spreadsheet takes a cell that begins so for a formula, and a formula can do harm (OWASP, "CSV Injection").
const FORMULA = /^[=+\-@\uff1d\uff0b\uff0d\uff20\t\r\n]/;
const NEEDS_QUOTES = /[",\r\n]/;

/** One cell; text that a spreadsheet would reckon with is kept text by an apostrophe before it. */
export function csvCell(text: string): string {
  const harmless = FORMULA.test(text) ? `'${text}` : text;
  return NEEDS_QUOTES.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}
