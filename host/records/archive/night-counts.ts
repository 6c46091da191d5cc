import { nightOf, nightSpan } from '../log/night.js';
import type { NightCount, Run, UndatedRun } from './archive.js';
import { QUARTER_MS, UNDATED_QUARTER } from './quarters.js';
import { DATES, type Read } from './record-pages.js';
import { jsonOf, textColumn, textOf, wholeColumn } from './rows.js';

type Counts = Omit<NightCount, 'night' | 'undated'>;

const sums = `total(records) AS records, total(sheets) AS sheets, total(exposures) AS exposures`;

/** The nights in their order, and last the runs that have no date; of one board, or of all. */
export function nightCounts(read: Read, board: string | undefined): NightCount[] {
  const nights = datedNights(read, board);
  const dateless: NightCount[] = [];
  for (const { night, run, counts } of undatedRuns(read, board))
    if (night === null) dateless.push({ ...counts, night, undated: [run] });
    else nights.set(night, withRun(nights.get(night), night, counts, run));
  const inOrder = [...nights.values()].sort((one, other) => (one.night! < other.night! ? -1 : 1));
  return [...inOrder, ...dateless];
}

function withRun(before: NightCount | undefined, night: string, counts: Counts, run: UndatedRun): NightCount {
  if (before === undefined) return { ...counts, night, undated: [run] };
  return {
    ...before,
    sheets: before.sheets + counts.sheets,
    exposures: before.exposures + counts.exposures,
    records: before.records + counts.records,
    undated: [...before.undated, run],
  };
}

type Quarter = [quarter: number, firstMs: number, lastMs: number, ...counts: [number, number, number]];

/** Of what clocks dated: all quarters as one text, since there are some for each night of many years. */
function datedNights(read: Read, board: string | undefined): Map<string, NightCount> {
  const [said] = read<{ quarters: ArrayBuffer }>(
    `SELECT CAST(json_group_array(json_array(quarter, first, last, records, sheets, exposures)) AS BLOB) AS quarters
     FROM (SELECT quarter, CAST(min(first_ms) AS INTEGER) AS first, CAST(max(last_ms) AS INTEGER) AS last, ${sums}
       FROM quarter WHERE quarter >= 0 AND quarter < :until ${ofBoard(board)} GROUP BY quarter ORDER BY quarter)`,
    { until: DATES.untilMs / QUARTER_MS, ...named(board) },
  );
  const nights = new Map<string, NightCount>();
  for (const quarters of nightsOf((jsonOf(said?.quarters ?? null) ?? []) as Quarter[])) {
    const night = nightOf(quarters[0]![0] * QUARTER_MS);
    nights.set(night, countOf(night, quarters));
  }
  return nights;
}

/** Quarters in their order, those of a night together. */
function* nightsOf(quarters: readonly Quarter[]): Generator<Quarter[]> {
  for (let from = 0, upto = 0; from < quarters.length; from = upto) {
    const until = nightSpan(nightOf(quarters[from]![0] * QUARTER_MS)).untilMs / QUARTER_MS;
    while (upto < quarters.length && quarters[upto]![0] < until) upto++;
    yield quarters.slice(from, upto);
  }
}

function countOf(night: string, quarters: readonly Quarter[]): NightCount {
  const sum = (at: 3 | 4 | 5) => quarters.reduce((total, quarter) => total + quarter[at], 0);
  const [firstMs, lastMs] = [quarters[0]![1], quarters.at(-1)![2]];
  return { night, firstMs, lastMs, records: sum(3), sheets: sum(4), exposures: sum(5), undated: [] };
}

interface UndatedRow extends Omit<Run, 'board'> {
  readonly board: ArrayBuffer;
  readonly night: ArrayBuffer | null;
  readonly records: number;
  readonly sheets: number;
  readonly exposures: number;
}

/** Runs in which nobody told the time, and what date each was given by hand. */
export function undatedRuns(
  read: Read,
  board: string | undefined,
): { readonly night: string | null; readonly run: UndatedRun; readonly counts: Counts }[] {
  const rows = read<UndatedRow>(
    `SELECT ${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')}, ${textColumn('night')},
       records, sheets, exposures
     FROM (SELECT board, log, boot, ${sums} FROM quarter WHERE quarter = ${UNDATED_QUARTER} ${ofBoard(board)}
       GROUP BY board, log, boot)
     LEFT JOIN dated_by_hand USING (board, log, boot) ORDER BY 1, 2, 3`,
    named(board),
  );
  const numbers = new Map<string, number>();
  return rows.map(({ board, night, log, boot, ...counts }) => {
    const id = textOf(board) ?? '';
    const number = (numbers.get(id) ?? 0) + 1;
    numbers.set(id, number);
    return {
      night: textOf(night) ?? null,
      run: { number, board: id, log, boot },
      counts: { ...counts, firstMs: null, lastMs: null },
    };
  });
}

/** Left out where all boards are meant: the index by time then answers alone. */
export function ofBoard(board: string | undefined): string {
  return board === undefined ? '' : 'AND board = :board';
}

export function named(board: string | undefined): { board?: string } {
  return board === undefined ? {} : { board };
}
