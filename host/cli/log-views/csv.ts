import { eventWords } from '../../records/log/event-words.js';
import { type ExposureEntry, isExposure, type LogEntry } from '../../records/log/log-entry.js';
import { csvCell } from './csv-cell.js';
import { localTime } from './local-time.js';

/** Heads of the columns, and what stands in them; times of day are the laptop's own, beside the zone that they are in. */
const columns: Readonly<Record<string, (entry: LogEntry, light: ExposureEntry | undefined) => unknown>> = {
  night: ({ night }) => night,
  date: ({ at }) => at && localDate(new Date(at)),
  time: ({ at }) => at && localTime(Date.parse(at)),
  zone: ({ at }) => at && zoneOf(new Date(at)),
  board: ({ board }) => board,
  'power-on': ({ boot }) => boot,
  number: ({ seq }) => seq,
  'minutes on': ({ uptimeMs }) => (uptimeMs / 60_000).toFixed(1),
  what: ({ kind }) => kind,
  recipe: (_, light) => light?.recipe,
  sheet: (entry, light) => light?.sheet ?? sheetOf(entry),
  pass: (_, light) => light?.pass,
  patch: (_, light) => light?.patch,
  label: (_, light) => light?.label,
  filter: (_, light) => light?.filter,
  'planned s': (_, light) => light && inSeconds(light.plannedMs),
  'lamp on s': (_, light) => light && inSeconds(light.onMs),
  'light s': (_, light) => light && inSeconds(light.doseMs),
  outcome: (entry, light) =>
    light?.outcome ?? (entry.kind === 'sheet-ended' ? entry.details.outcome : undefined),
  pauses: (_, light) => light?.pauses,
  note: (entry) => (isExposure(entry) ? '' : eventWords(entry)),
};
const contents = Object.values(columns);

/** The log for a spreadsheet, as RFC 4180 has it, heads first. */
export async function* csvLines(pages: AsyncIterable<readonly LogEntry[]>): AsyncGenerator<string> {
  yield lineOf(Object.keys(columns));
  for await (const page of pages) yield page.map((entry) => lineOf(rowOf(entry))).join('');
}

function lineOf(row: readonly string[]): string {
  return `${row.map(csvCell).join(',')}\r\n`;
}

function rowOf(entry: LogEntry): string[] {
  const light = isExposure(entry) ? entry : undefined;
  return contents.map((content) => String(content(entry, light) ?? ''));
}

function sheetOf(entry: LogEntry): number | undefined {
  return 'details' in entry && 'sheet' in entry.details ? entry.details.sheet : undefined;
}

function inSeconds(ms: number): string {
  return (ms / 1000).toFixed(3);
}

const two = (part: number) => `${part}`.padStart(2, '0');

function localDate(date: Date): string {
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** 'UTC+01:00': what the laptop's clock was ahead of UTC then; a bare '+' would begin a formula. */
function zoneOf(date: Date): string {
  const minutes = -date.getTimezoneOffset();
  const size = Math.abs(minutes);
  return `UTC${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
