import type { ArchivedRecord } from './archive.js';
import { jsonOf, textColumn, textOf, wholeColumn } from './rows.js';

/**
 * Records read at once; between two of these others may write. Fewer take more time, and of more than these the engine
 * keeps so many that a whole log takes half as much memory again.
 */
const PAGE = 250;
/** What a date can be (ECMA-262, 21.4.1.1), less a day on both sides; a damaged file may hold anything. */
export const DATES = { fromMs: -8.64e15 + 86_400_000, untilMs: 8.64e15 - 86_400_000 };

/** Asks the database. */
export type Read = <Row>(sql: string, values?: Record<string, unknown>) => Row[];

/** Records of one board, and how to go on behind one of them. */
export interface Stretch {
  readonly board: string;
  readonly where: string;
  readonly orderBy: string;
  readonly values: Record<string, unknown>;
  /** Where it begins: behind this record, which is not of it; from the first one on where none is named. */
  readonly from?: Pick<ArchivedRecord, 'log' | 'seq' | 'boot'>;
  /** The values that stand for the place of the last record that was read. */
  after(last: Pick<ArchivedRecord, 'log' | 'seq' | 'boot'>): Record<string, unknown>;
}

export function* pagesOf(read: Read, stretch: Stretch): Generator<ArchivedRecord[]> {
  let last = stretch.from ?? { log: -1, seq: -1, boot: -1 };
  for (;;) {
    const values = { ...stretch.values, ...stretch.after(last) };
    const page = pageAtOnce(read, stretch, values) ?? pageByRows(read, stretch, values);
    if (page.length > 0) yield page;
    if (page.length < PAGE) return;
    last = page.at(-1)!;
  }
}

const whole = (column: string) => `ifnull(CAST(${column} AS INTEGER), 'null')`;
const line = `'[' || ${['log', 'boot', 'seq', 'uptime_ms', 'at_ms'].map(whole).join(` || ',' || `)}
  || ',' || json_quote(type) || ',' || json_quote(schema_hash) || ',' || fields || ']'`;

type Line = readonly [number, number, number, number, number | null, string, string, readonly unknown[]];
const LINE_LENGTH = 8;

/**
 * A whole page as one text, since each value that the package hands out costs more than reading it. Undefined where
 * anything in it is not as it was written.
 */
function pageAtOnce(
  read: Read,
  { board, where, orderBy }: Stretch,
  values: Record<string, unknown>,
): ArchivedRecord[] | undefined {
  const [said] = tried(() =>
    read<{ page: ArrayBuffer; count: number }>(
      `SELECT CAST('[' || ifnull(group_concat(line), '') || ']' AS BLOB) AS page, count(*) AS count
       FROM (SELECT ${line} AS line FROM record WHERE ${where} ORDER BY ${orderBy} LIMIT ${PAGE})`,
      values,
    ),
  );
  const lines = jsonOf(said?.page ?? null);
  if (!Array.isArray(lines) || lines.length !== said?.count || !lines.every(isLine)) return undefined;
  return lines.map(([log, boot, seq, uptimeMs, atMs, type, schemaHash, fields]) => ({
    ...{ board, log, boot, seq, uptimeMs, type, fields, schemaHash, atMs: possibleDate(atMs) },
  }));
}

/** What is wrong is found, and told, when the rows are read one by one. */
function tried<Row>(work: () => Row[]): Row[] {
  try {
    return work();
  } catch {
    return [];
  }
}

function isLine(line: unknown): line is Line {
  return (
    Array.isArray(line) &&
    line.length === LINE_LENGTH &&
    typeof line[0] === 'number' &&
    typeof line[1] === 'number' &&
    typeof line[2] === 'number' &&
    typeof line[3] === 'number' &&
    typeof line[5] === 'string' &&
    typeof line[6] === 'string' &&
    Array.isArray(line[7])
  );
}

interface RecordRow {
  readonly log: number;
  readonly boot: number;
  readonly seq: number;
  readonly uptimeMs: number;
  readonly type: ArrayBuffer;
  readonly fields: ArrayBuffer;
  readonly schemaHash: ArrayBuffer;
  readonly atMs: number | null;
}

const recordColumns = `${wholeColumn('log')}, ${wholeColumn('boot')}, ${wholeColumn('seq')},
  ${wholeColumn('uptime_ms', 'uptimeMs')}, ${textColumn('type')}, ${textColumn('fields')},
  ${textColumn('schema_hash', 'schemaHash')}, ${wholeColumn('at_ms', 'atMs')}`;

function pageByRows(
  read: Read,
  { board, where, orderBy }: Stretch,
  values: Record<string, unknown>,
): ArchivedRecord[] {
  const rows = read<RecordRow>(
    `SELECT ${recordColumns} FROM record WHERE ${where} ORDER BY ${orderBy} LIMIT ${PAGE}`,
    values,
  );
  return rows.map((row) => recordOfRow(board, row));
}

/** A record that is damaged in the file is of a type that no version knows, so that it is shown as not readable. */
function recordOfRow(board: string, { type, fields, schemaHash, atMs, ...row }: RecordRow): ArchivedRecord {
  const values = jsonOf(fields);
  const sound = Array.isArray(values) ? { type: textOf(type), fields: values as unknown[] } : undefined;
  return {
    ...row,
    board,
    type: sound?.type ?? 'damaged',
    fields: sound?.fields ?? [row.boot, row.seq, row.uptimeMs],
    schemaHash: textOf(schemaHash) ?? '',
    atMs: possibleDate(atMs),
  };
}

function possibleDate(atMs: number | null): number | null {
  return atMs !== null && atMs >= DATES.fromMs && atMs < DATES.untilMs ? atMs : null;
}
