import type { Database } from 'libsql';
import type { Run } from './archive.js';
import { type DatedPoint, datesOf, usableTimes } from './dating.js';
import { textColumn, textOf, wholeColumn } from './rows.js';

interface PointRow {
  readonly seq: number;
  readonly uptimeMs: number;
  readonly atMs: number | null;
  /** The time that a clock mark tells, null for everything else. */
  readonly toldMs: number | null;
}

const ofRun = 'board = :board AND log = :log AND boot = :boot';
/** Of the fields of a clock mark, boot, seq and uptime come before its time. */
const told = `CASE WHEN type = 'clock' AND json_valid(fields) THEN CAST(json_extract(fields, '$[3]') AS INTEGER) END`;
const pointColumns = `${wholeColumn('seq')}, ${wholeColumn('uptime_ms', 'uptimeMs')},
  ${wholeColumn('at_ms', 'atMs')}, ${told} AS toldMs`;

/** Works out the dates of every record. */
export function dateEverything(database: Database): void {
  const runs = database
    .prepare(
      `SELECT DISTINCT ${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')} FROM record`,
    )
    .all() as { board: ArrayBuffer; log: number; boot: number }[];
  for (const { board, log, boot } of runs) dateFrom(database, { board: textOf(board) ?? '', log, boot }, -1);
}

/** Works out the dates of a run's records from `firstSeq` on, and of those before that a new clock mark tells about. */
export function dateRecords(database: Database, run: Run, firstSeq: number, marksCame: boolean): void {
  const before = marksCame ? undefined : pointBefore(database, run, firstSeq);
  if (before !== undefined) dateAfter(database, run, before);
  else if (marksCame || hasMark(database, run)) dateFrom(database, run, firstSeq);
}

/** From the last usable mark before `firstSeq`, or from the start of the run. */
function dateFrom(database: Database, run: Run, firstSeq: number): void {
  dateAfter(database, run, lastMarkBefore(database, run, firstSeq));
}

function dateAfter(
  database: Database,
  run: Run,
  from: (DatedPoint & { readonly seq: number }) | undefined,
): void {
  const rows = database
    .prepare(`SELECT ${pointColumns} FROM record WHERE ${ofRun} AND seq > :seq ORDER BY record.seq`)
    .all({ ...run, seq: from?.seq ?? -1 }) as PointRow[];
  const dates = datesOf(rows, from);
  const set = database.prepare(`UPDATE record SET at_ms = :atMs WHERE ${ofRun} AND seq = :seq`);
  for (const [index, { seq, atMs }] of rows.entries())
    if (dates[index] !== atMs) set.run({ ...run, seq, atMs: dates[index]! });
}

function pointBefore(database: Database, run: Run, seq: number) {
  const row = database
    .prepare(
      `SELECT ${pointColumns} FROM record WHERE ${ofRun} AND seq < :seq ORDER BY record.seq DESC LIMIT 1`,
    )
    .get({ ...run, seq }) as PointRow | undefined;
  return row === undefined || row.atMs === null ? undefined : { ...row, atMs: row.atMs };
}

function lastMarkBefore(database: Database, run: Run, seq: number) {
  return database
    .prepare(
      `SELECT ${pointColumns} FROM record WHERE ${ofRun} AND type = 'clock' AND seq < :seq AND at_ms IS NOT NULL
       AND ${told} >= ${usableTimes.fromMs} AND ${told} < ${usableTimes.untilMs} ORDER BY record.seq DESC LIMIT 1`,
    )
    .get({ ...run, seq }) as (DatedPoint & { readonly seq: number }) | undefined;
}

function hasMark(database: Database, run: Run): boolean {
  return (
    database
      .prepare(`SELECT 1 AS one FROM record WHERE ${ofRun} AND type = 'clock' LIMIT 1`)
      .get({ ...run }) !== undefined
  );
}
