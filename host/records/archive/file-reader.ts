import type { Database, Statement } from 'libsql';
import { nightOf, nightSpan } from '../log/night.js';
import {
  type ArchivedRecord,
  type ArchiveReader,
  type KeptPaperReading,
  type KeptRecipe,
  type NightCount,
  NightOutOfOrder,
  NumberingBeganAnew,
  type PrintedRecipe,
  type PrintedSheet,
  type RecordFilter,
  type Remark,
  type Run,
  type SheetPlace,
} from './archive.js';
import { archiveTrouble } from './archive-trouble.js';
import { recipeMarks, sheetMarks } from './marks.js';
import { named, nightCounts, ofBoard, undatedRuns } from './night-counts.js';
import { type PaperReadingRow, paperReadingOf, paperReadingsSql } from './paper-readings.js';
import {
  keptRecipeOf,
  latestPrintSql,
  type PrintedRecipeRow,
  type PrintRow,
  printedRecipesSql,
  printOf,
  type RecipeRow,
  type RemarkRow,
  type RunOfRecipeRow,
  recipesNamedSql,
  recipesSql,
  remarkOf,
  remarksSql,
  runsOfRecipeSql,
} from './recipe-rows.js';
import { DATES, pagesOf, type Read, type Stretch } from './record-pages.js';
import { textColumn, textOf, wholeColumn } from './rows.js';

/** A stretch of one run in which all records of a night stand. */
interface Span extends Run {
  readonly first: number;
  readonly last: number;
}

/** What can be read of an archive's file. */
export class FileReader implements ArchiveReader {
  readonly file: string;
  #database: Database | undefined;
  #isClosed = false;
  readonly #statements = new Map<string, Statement>();

  /** Without a database it is an archive that nobody has written to yet. */
  constructor(file: string, database: Database | undefined) {
    this.file = file;
    this.#database = database;
  }

  protected get database(): Database | undefined {
    return this.#database;
  }

  protected set database(database: Database) {
    this.#database = database;
  }

  async *records(filter: RecordFilter = {}): AsyncGenerator<ArchivedRecord, void, void> {
    for await (const page of this.recordPages(filter)) yield* page;
  }

  async *recordPages(filter: RecordFilter = {}): AsyncGenerator<readonly ArchivedRecord[], void, void> {
    yield* this.#pages(this.#stretchesOf(filter), filter.board);
  }

  async *recordsAfter(place: SheetPlace): AsyncGenerator<ArchivedRecord, void, void> {
    for (const page of this.#pages([laterStretch(place)], place.board)) yield* page;
  }

  async *recipeMarksBefore(place: SheetPlace): AsyncGenerator<ArchivedRecord, void, void> {
    for (const page of this.#pages([earlierMarks(place)], place.board)) yield* page;
  }

  *#pages(stretches: Iterable<Stretch>, board: string | undefined): Generator<readonly ArchivedRecord[]> {
    const byHand = this.#nightsByHand(board);
    for (const stretch of stretches)
      for (const page of pagesOf(this.read, stretch))
        yield byHand.size === 0 ? page : page.map((record) => withNight(record, byHand));
  }

  async boards(): Promise<string[]> {
    return this.#boards(undefined).flatMap((board) => (board === null ? [] : board.toString()));
  }

  async boardNames(): Promise<ReadonlyMap<string, string>> {
    const rows = this.read<Record<'board' | 'name', ArrayBuffer | null>>(
      `SELECT ${textColumn('board')}, ${textColumn('name')} FROM board_name`,
    );
    return new Map(rows.map(({ board, name }) => [textOf(board) ?? '', textOf(name) ?? '']));
  }

  #nightsByHand(board: string | undefined): ReadonlyMap<string, string> {
    const dated = undatedRuns(this.read, board).filter(({ night }) => night !== null);
    return new Map(dated.map(({ run, night }) => [keyOf(run), night!]));
  }

  async *nights({ board }: Pick<RecordFilter, 'board'> = {}): AsyncGenerator<NightCount, void, void> {
    yield* nightCounts(this.read, board);
  }

  async latestNight({ board }: Pick<RecordFilter, 'board'> = {}): Promise<string | undefined> {
    const [last] = this.read<{ atMs: number }>(
      `SELECT ${wholeColumn('at_ms', 'atMs')} FROM record WHERE at_ms >= :fromMs AND at_ms < :untilMs
       ${ofBoard(board)} ORDER BY record.at_ms DESC LIMIT 1`,
      { ...DATES, ...named(board) },
    );
    const byClock = last === undefined ? [] : [nightOf(last.atMs)];
    return [...byClock, ...this.#nightsByHand(board).values()].sort().at(-1);
  }

  async recipes(name?: string): Promise<KeptRecipe[]> {
    const rows =
      name === undefined ? this.read<RecipeRow>(recipesSql) : this.read<RecipeRow>(recipesNamedSql, { name });
    return rows.flatMap(keptRecipeOf);
  }

  async printedRecipes(): Promise<PrintedRecipe[]> {
    const rows = this.read<PrintedRecipeRow>(printedRecipesSql);
    return rows.map(({ name, ...row }) => ({ ...row, name: textOf(name) ?? '' }));
  }

  async nightsOf(recipe: string): Promise<Pick<RecordFilter, 'night' | 'run'>[]> {
    const byHand = this.#nightsByHand(undefined);
    const runs = this.read<RunOfRecipeRow>(runsOfRecipeSql, { name: recipe });
    const found = new Map<string, Pick<RecordFilter, 'night' | 'run'>>();
    for (const { atMs, board: id, log, boot } of runs) {
      const run = { board: textOf(id) ?? '', log, boot };
      const night = atMs === null ? byHand.get(keyOf(run)) : nightOf(atMs);
      found.set(night ?? keyOf(run), night === undefined ? { run } : { night });
    }
    return [...found.values()];
  }

  async latestPrint(name: string, version: number): Promise<PrintedSheet | undefined> {
    return this.read<PrintRow>(latestPrintSql, { name, version }).map(printOf)[0];
  }

  async sheetsEndedByPower({ night }: Pick<RecordFilter, 'night'> = {}): Promise<SheetPlace[]> {
    const ofNight = typeof night === 'string';
    const rows = this.read<Omit<SheetPlace, 'board'> & { readonly board: ArrayBuffer }>(
      sheetsEndedByPowerSql(ofNight ? RUNS_OF_NIGHT : ''),
      ofNight ? { ...nightSpan(night), night } : {},
    );
    return rows.map((row) => ({ ...row, board: textOf(row.board) ?? '' }));
  }

  async remarks(): Promise<Remark[]> {
    return this.read<RemarkRow>(remarksSql).map(remarkOf);
  }

  async paperReadings(paper?: string): Promise<KeptPaperReading[]> {
    return this.read<PaperReadingRow>(paperReadingsSql, { paper: paper ?? null }).map(paperReadingOf);
  }

  async close(): Promise<void> {
    this.#statements.clear();
    this.#database?.close();
    this.#database = undefined;
    this.#isClosed = true;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    await this.close();
  }

  protected readonly read: Read = (sql, values = {}) =>
    this.attempt(() => (this.#prepared(sql)?.all(values) ?? []) as never);

  protected attempt<Result>(work: () => Result): Result {
    try {
      if (this.#isClosed) throw new Error('it was closed before this was read');
      return work();
    } catch (error) {
      if (error instanceof NumberingBeganAnew || error instanceof NightOutOfOrder) throw error;
      throw archiveTrouble(this.file, error);
    }
  }

  /** A whole log asks the same for each of thousands of pages. */
  #prepared(sql: string): Statement | undefined {
    const statement = this.#statements.get(sql) ?? this.#database?.prepare(sql);
    if (statement !== undefined) this.#statements.set(sql, statement);
    return statement;
  }

  /** By their bytes, which in a damaged file may be no text, or not there: one such must not hide the others. */
  #boards(board: string | undefined): (Buffer | null)[] {
    if (board !== undefined) return [Buffer.from(board)];
    const rows = this.read<{ board: ArrayBuffer | null }>(
      `SELECT ${textColumn('board')} FROM (SELECT DISTINCT board FROM record) ORDER BY 1`,
    );
    return rows.map((row) => row.board && Buffer.from(row.board));
  }

  *#stretchesOf({ board, night, run }: RecordFilter): Generator<Stretch> {
    if (run !== undefined) yield runStretch(run);
    else if (night === undefined) for (const one of this.#boards(board)) yield boardStretch(one);
    else for (const span of this.#spansOf(night, board)) yield span;
  }

  /** What clocks dated so, and what a person did, in the order of the boards' power-ons. */
  #spansOf(night: string | null, board: string | undefined): Stretch[] {
    const clocked =
      night === null
        ? []
        : this.#spansBetween(night, board).map((span) => ({ run: span, stretch: spanStretch(span, night) }));
    const undated = undatedRuns(this.read, board)
      .filter((one) => one.night === night)
      .map(({ run }) => ({ run, stretch: undatedStretch(run) }));
    return [...clocked, ...undated]
      .sort((one, other) => inOrder(one.run, other.run))
      .map(({ stretch }) => stretch);
  }

  #spansBetween(night: string, board: string | undefined): Span[] {
    const rows = this.read<Omit<Span, 'board'> & { readonly board: ArrayBuffer }>(
      `SELECT ${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')},
       ${wholeColumn('min(seq)', 'first')}, ${wholeColumn('max(seq)', 'last')} FROM record
       WHERE at_ms >= :fromMs AND at_ms < :untilMs ${ofBoard(board)} GROUP BY 1, 2, 3`,
      { ...nightSpan(night), ...named(board) },
    );
    return rows.map((row) => ({ ...row, board: textOf(row.board) ?? '' }));
  }
}

/** Limits what is read to the runs in which something was logged that night. */
const RUNS_OF_NIGHT = `AND (board, log, boot) IN (
  SELECT board, log, boot FROM record WHERE at_ms >= :fromMs AND at_ms < :untilMs
  UNION SELECT board, log, boot FROM dated_by_hand WHERE night = :night)`;

/**
 * A later run of the board shows that a sheet which was open at the end of its own is not merely under way; a board that kept it
 * begins that run by saying what became of it. Log and boot are asked after one by one: for both at once the database looks
 * through all that follows, which took minutes with a million entries.
 */
const sheetsEndedByPowerSql = (limit: string) => `WITH run AS (SELECT board, log, boot,
    max(CASE WHEN type IN ('sheet', 'sheet-resumed') THEN seq END) AS begun,
    max(CASE WHEN type IN ('sheet-ended', 'sheet-unused') THEN seq END) AS ended
    FROM record WHERE ${sheetMarks} ${limit} GROUP BY board, log, boot)
  SELECT ${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')}, ${wholeColumn('begun', 'seq')}
  FROM run WHERE begun > ifnull(ended, -1)
    AND (EXISTS (${later('1', IN_THIS_LOG)}) OR EXISTS (${later('1', IN_A_LATER_LOG)}))
    AND coalesce((${firstMark(IN_THIS_LOG)}), (${firstMark(IN_A_LATER_LOG)}), 'sheet') = 'sheet'`;

const IN_THIS_LOG = 'next.log = run.log AND next.boot > run.boot';
const IN_A_LATER_LOG = 'next.log > run.log';
const later = (what: string, where: string) =>
  `SELECT ${what} FROM record AS next WHERE next.board = run.board AND ${where}`;
const firstMark = (where: string) =>
  `${later('type', where)} AND next.${sheetMarks} ORDER BY next.log, next.boot, next.seq LIMIT 1`;

function keyOf({ board, log, boot }: Run): string {
  return `${log} ${boot} ${board}`;
}

function withNight(record: ArchivedRecord, byHand: ReadonlyMap<string, string>): ArchivedRecord {
  const night = record.atMs === null ? byHand.get(keyOf(record)) : undefined;
  return night === undefined ? record : { ...record, nightByHand: night };
}

function inOrder(one: Run, other: Run): number {
  if (one.board !== other.board) return one.board < other.board ? -1 : 1;
  return one.log - other.log || one.boot - other.boot;
}

function boardStretch(board: Buffer | null): Stretch {
  return {
    board: textOf(board) ?? '',
    where: 'board IS CAST(:board AS TEXT) AND (log, seq, boot) > (:log, :seq, :boot)',
    orderBy: 'record.log, record.seq, record.boot',
    values: { board },
    after: ({ log, seq, boot }) => ({ log, seq, boot }),
  };
}

function laterStretch({ board, ...from }: SheetPlace): Stretch {
  return { ...boardStretch(Buffer.from(board)), from };
}

function earlierMarks({ board, ...from }: SheetPlace): Stretch {
  return {
    ...boardStretch(Buffer.from(board)),
    where: `board = :board AND ${recipeMarks} AND (log, seq, boot) < (:log, :seq, :boot)`,
    orderBy: 'record.log DESC, record.seq DESC, record.boot DESC',
    values: { board },
    from,
  };
}

function spanStretch({ first, last, ...run }: Span, night: string): Stretch {
  const { where, values, ...stretch } = runStretch(run);
  return {
    ...stretch,
    where: `${where} AND seq >= :first AND seq <= :last AND +at_ms >= :fromMs AND +at_ms < :untilMs`,
    values: { ...values, first, last, ...nightSpan(night) },
  };
}

function undatedStretch(run: Run): Stretch {
  const stretch = runStretch(run);
  return { ...stretch, where: `${stretch.where} AND +at_ms IS NULL` };
}

function runStretch({ board, log, boot }: Run): Stretch {
  return {
    board,
    where: 'board = :board AND log = :log AND boot = :boot AND seq > :seq',
    orderBy: 'record.seq',
    values: { board, log, boot },
    after: ({ seq }) => ({ seq }),
  };
}
