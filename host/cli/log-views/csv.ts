import type { SheetRemark } from '../../records/archive/archive.js';
import { eventWords } from '../../records/log/event-words.js';
import { type ExposureEntry, isExposure, type LogEntry } from '../../records/log/log-entry.js';
import { csvCell } from './csv-cell.js';

/** Times of day are the laptop's own, beside the zone that they are in. */
const columns = [
  ...[
    'night',
    'date',
    'time',
    'zone',
    'board',
    'power-on',
    'number',
    'minutes on',
    'what',
    'recipe',
    'sheet',
  ],
  ...['pass', 'patch', 'label', 'filter', 'planned s', 'lamp on s', 'light s', 'outcome', 'pauses', 'note'],
  ...['rating', 'remark', 'board name'],
] as const;

/** The log for a spreadsheet, as RFC 4180 has it, heads first. */
export async function* csvLines(
  pages: AsyncIterable<readonly LogEntry[]>,
  names: ReadonlyMap<string, string>,
): AsyncGenerator<string> {
  const local = new LocalTimes();
  yield lineOf(columns);
  for await (const page of pages)
    yield page.map((entry) => lineOf([...rowOf(entry, local), names.get(entry.board) ?? ''])).join('');
}

function lineOf(row: readonly string[]): string {
  return `${row.map(csvCell).join(',')}\r\n`;
}

function rowOf(entry: LogEntry, local: LocalTimes): string[] {
  const { night, at, board, boot, seq, uptimeMs, kind } = entry;
  const when = at === null ? ['', '', ''] : local.of(Date.parse(at));
  const head = [night ?? '', ...when, board, `${boot}`, `${seq}`, (uptimeMs / 60_000).toFixed(1), kind];
  return isExposure(entry) ? [...head, ...lightCells(entry)] : [...head, ...eventCells(entry)];
}

function lightCells(light: ExposureEntry): string[] {
  const { recipe, sheet, pass, patch, label, filter, plannedMs, onMs, doseMs, outcome, pauses } = light;
  const times = [plannedMs, onMs, doseMs].map(inSeconds);
  return [
    recipe,
    `${sheet}`,
    `${pass}`,
    `${patch}`,
    label,
    filter,
    ...times,
    outcome,
    `${pauses}`,
    '',
    '',
    '',
  ];
}

function eventCells(event: Exclude<LogEntry, ExposureEntry>): string[] {
  const outcome = outcomeOf(event);
  const said = ratingAndWords('remarks' in event ? (event.remarks ?? []) : []);
  return [
    '',
    `${sheetOf(event) ?? ''}`,
    ...Array<string>(7).fill(''),
    outcome,
    '',
    eventWords(event),
    ...said,
  ];
}

/** Of a sheet that the power ended no record says so: it stands where the sheet begins, or is gone on with. */
function outcomeOf(event: Exclude<LogEntry, ExposureEntry>): string {
  if (event.kind === 'sheet-ended') return event.details.outcome;
  return 'endedByPower' in event && event.endedByPower ? 'interrupted' : '';
}

/** The last rating, since it is the one that holds, and all that was said. */
function ratingAndWords(remarks: readonly SheetRemark[]): [string, string] {
  const rating = remarks.findLast((one) => one.rating !== null)?.rating ?? '';
  return [`${rating}`, remarks.flatMap(({ words }) => (words === '' ? [] : [words])).join('; ')];
}

function sheetOf(entry: LogEntry): number | undefined {
  return 'details' in entry && 'sheet' in entry.details ? entry.details.sheet : undefined;
}

function inSeconds(ms: number): string {
  return (ms / 1000).toFixed(3);
}

const two = (part: number) => `${part}`.padStart(2, '0');

/** Neither date nor zone changes within a quarter of an hour, and entries come many to a quarter. */
const QUARTER_MS = 900_000;

class LocalTimes {
  #quarter = Number.NaN;
  #date = '';
  #hour = '';
  #zone = '';

  /** Date, time of day and zone. */
  of(epochMs: number): [string, string, string] {
    const date = new Date(epochMs);
    const quarter = Math.floor(epochMs / QUARTER_MS);
    if (quarter !== this.#quarter) {
      this.#quarter = quarter;
      this.#date = `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
      this.#hour = two(date.getHours());
      this.#zone = zoneOf(date);
    }
    return [this.#date, `${this.#hour}:${two(date.getMinutes())}:${two(date.getSeconds())}`, this.#zone];
  }
}

/** 'UTC+01:00': what the laptop's clock was ahead of UTC then; a bare '+' would begin a formula. */
function zoneOf(date: Date): string {
  const minutes = -date.getTimezoneOffset();
  const size = Math.abs(minutes);
  return `UTC${minutes < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}
