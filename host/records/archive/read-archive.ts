import type { Database, Statement } from 'libsql';
import { ArchiveError } from '../archive-error.js';
import { nightOf, nightSpan } from '../log/night.js';
import {
  type ArchivedRecord,
  type ArchiveReader,
  type KeptRecipe,
  type NightCount,
  NumberingBeganAnew,
  type PrintedSheet,
  type RecordFilter,
  type Remark,
} from './archive.js';
import { archivePath, usualArchiveFile } from './archive-name.js';
import { archiveTrouble } from './archive-trouble.js';
import { connectToRead, loadLibsql } from './connection.js';
import {
  keptRecipeOf,
  latestPrintSql,
  type PrintRow,
  printOf,
  type RecipeRow,
  type RemarkRow,
  recipesSql,
  remarkOf,
  remarksSql,
} from './recipe-rows.js';
import { jsonOf, textColumn, textOf, wholeColumn } from './rows.js';

/** Records read at once; between two of these others may write. */
const PAGE = 500;
/** What a date can be (ECMA-262, 21.4.1.1), less a day on both sides; a damaged file may hold anything. */
const DATES = { fromMs: -8.64e15 + 86_400_000, untilMs: 8.64e15 - 86_400_000 };

/** Opens an archive to read it, or the usual one; the file is never changed. @throws ArchiveError */
export async function readArchive(name = usualArchiveFile()): Promise<ArchiveReader> {
  const { path, there } = archivePath(name);
  if (there === undefined)
    throw new ArchiveError(path, "there is no such archive yet: 'treadle collect' makes it", { exitCode: 2 });
  return new FileReader(path, connectToRead(await loadLibsql(path), path));
}

interface RecordRow {
  readonly board: ArrayBuffer;
  readonly log: number;
  readonly boot: number;
  readonly seq: number;
  readonly uptimeMs: number;
  readonly type: ArrayBuffer;
  readonly fields: ArrayBuffer;
  readonly schemaHash: ArrayBuffer;
  readonly atMs: number | null;
}

const recordColumns = `${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')}, ${wholeColumn('seq')},
  ${wholeColumn('uptime_ms', 'uptimeMs')}, ${textColumn('type')}, ${textColumn('fields')},
  ${textColumn('schema_hash', 'schemaHash')}, ${wholeColumn('at_ms', 'atMs')}`;

/** A stretch of one run in which all records of a night stand. */
interface Span {
  readonly board: string;
  readonly log: number;
  readonly boot: number;
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
    if (filter.night === undefined) for (const board of this.#boards(filter)) yield* this.#recordsOf(board);
    else
      for (const span of this.#spansOf(filter.night, filter.board))
        yield* this.#recordsIn(span, filter.night);
  }

  async *nights({ board }: Pick<RecordFilter, 'board'> = {}): AsyncGenerator<NightCount, void, void> {
    for (let firstMs = this.#firstFrom(DATES.fromMs, board); firstMs !== undefined; ) {
      const night = nightOf(firstMs);
      yield { night, ...this.#count(night, board) };
      firstMs = this.#firstFrom(nightSpan(night).untilMs, board);
    }
    const undated = this.#count(null, board);
    if (undated.records > 0) yield { night: null, ...undated };
  }

  async latestNight({ board }: Pick<RecordFilter, 'board'> = {}): Promise<string | undefined> {
    const [last] = this.all<{ atMs: number }>(
      `SELECT ${wholeColumn('at_ms', 'atMs')} FROM record WHERE at_ms >= :fromMs AND at_ms < :untilMs
       ${ofBoard(board)} ORDER BY record.at_ms DESC LIMIT 1`,
      { ...DATES, ...named(board) },
    );
    return last === undefined ? undefined : nightOf(last.atMs);
  }

  async recipes(name?: string): Promise<KeptRecipe[]> {
    return this.all<RecipeRow>(recipesSql, { name: name ?? null }).flatMap(keptRecipeOf);
  }

  async latestPrint(name: string, version: number): Promise<PrintedSheet | undefined> {
    return this.all<PrintRow>(latestPrintSql, { name, version }).map(printOf)[0];
  }

  async remarks(): Promise<Remark[]> {
    return this.all<RemarkRow>(remarksSql).map(remarkOf);
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

  protected all<Row>(sql: string, values: Record<string, unknown> = {}): Row[] {
    return this.attempt(() => (this.#prepared(sql)?.all(values) ?? []) as Row[]);
  }

  protected attempt<Result>(work: () => Result): Result {
    try {
      if (this.#isClosed) throw new Error('it was closed before this was read');
      return work();
    } catch (error) {
      throw error instanceof NumberingBeganAnew ? error : archiveTrouble(this.file, error);
    }
  }

  /** A list of nights asks the same for each of thousands. */
  #prepared(sql: string): Statement | undefined {
    const statement = this.#statements.get(sql) ?? this.#database?.prepare(sql);
    if (statement !== undefined) this.#statements.set(sql, statement);
    return statement;
  }

  /** By their bytes, which in a damaged file may be no text, or not there: one such must not hide the others. */
  #boards({ board }: RecordFilter): (Buffer | null)[] {
    if (board !== undefined) return [Buffer.from(board)];
    const rows = this.all<{ board: ArrayBuffer | null }>(
      `SELECT DISTINCT ${textColumn('board')} FROM record ORDER BY 1`,
    );
    return rows.map((row) => row.board && Buffer.from(row.board));
  }

  *#recordsOf(board: Buffer | null): Generator<ArchivedRecord> {
    let after = { log: -1, seq: -1, boot: -1 };
    for (;;) {
      const rows = this.all<RecordRow>(
        `SELECT ${recordColumns} FROM record WHERE board IS CAST(:board AS TEXT) AND (log, seq, boot) > (:log, :seq, :boot)
         ORDER BY record.log, record.seq, record.boot LIMIT ${PAGE}`,
        { board, ...after },
      );
      yield* rows.map(recordOfRow);
      if (rows.length < PAGE) return;
      const { log, seq, boot } = rows.at(-1)!;
      after = { log, seq, boot };
    }
  }

  #spansOf(night: string | null, board: string | undefined): Span[] {
    const rows = this.all<Omit<Span, 'board'> & { readonly board: ArrayBuffer }>(
      `SELECT ${textColumn('board')}, ${wholeColumn('log')}, ${wholeColumn('boot')},
       ${wholeColumn('min(seq)', 'first')}, ${wholeColumn('max(seq)', 'last')} FROM record WHERE ${within(night)} ${ofBoard(board)}
       GROUP BY 1, 2, 3 ORDER BY 1, 2, 4`,
      { ...spanOf(night), ...named(board) },
    );
    return rows.map((row) => ({ ...row, board: textOf(row.board) ?? '' }));
  }

  *#recordsIn({ board, log, boot, first, last }: Span, night: string | null): Generator<ArchivedRecord> {
    for (let from = first; from <= last; ) {
      const rows = this.all<RecordRow>(
        `SELECT ${recordColumns} FROM record WHERE board = :board AND log = :log AND boot = :boot
         AND seq >= :from AND seq <= :last AND +${within(night)} ORDER BY record.seq LIMIT ${PAGE}`,
        { board, log, boot, from, last, ...spanOf(night) },
      );
      yield* rows.map(recordOfRow);
      if (rows.length < PAGE) return;
      from = rows.at(-1)!.seq + 1;
    }
  }

  #firstFrom(fromMs: number, board: string | undefined): number | undefined {
    const [first] = this.all<{ atMs: number }>(
      `SELECT ${wholeColumn('at_ms', 'atMs')} FROM record WHERE at_ms >= :fromMs AND at_ms < :untilMs
       ${ofBoard(board)} ORDER BY at_ms LIMIT 1`,
      { fromMs, untilMs: DATES.untilMs, ...named(board) },
    );
    return first?.atMs;
  }

  #count(night: string | null, board: string | undefined): Omit<NightCount, 'night'> {
    const [count] = this.all<Omit<NightCount, 'night'>>(
      `SELECT ${wholeColumn('min(at_ms)', 'firstMs')}, ${wholeColumn('max(at_ms)', 'lastMs')}, count(*) AS records,
       ifnull(sum(type = 'sheet'), 0) AS sheets, ifnull(sum(type = 'exposure'), 0) AS exposures
       FROM record WHERE ${within(night)} ${ofBoard(board)}`,
      { ...spanOf(night), ...named(board) },
    );
    return count ?? { firstMs: null, lastMs: null, records: 0, sheets: 0, exposures: 0 };
  }
}

function within(night: string | null): string {
  return night === null ? 'at_ms IS NULL' : 'at_ms >= :fromMs AND at_ms < :untilMs';
}

/** Left out where all boards are meant: the index by time then answers alone. */
function ofBoard(board: string | undefined): string {
  return board === undefined ? '' : 'AND board = :board';
}

function named(board: string | undefined): { board?: string } {
  return board === undefined ? {} : { board };
}

function spanOf(night: string | null): { fromMs?: number; untilMs?: number } {
  return night === null ? {} : nightSpan(night);
}

/** A record that is damaged in the file is of a type that no version knows, so that it is shown as not readable. */
function recordOfRow({ type, fields, board, schemaHash, atMs, ...row }: RecordRow): ArchivedRecord {
  const values = jsonOf(fields);
  const whole = Array.isArray(values) ? { type: textOf(type), fields: values as unknown[] } : undefined;
  return {
    ...row,
    board: textOf(board) ?? '',
    type: whole?.type ?? 'damaged',
    fields: whole?.fields ?? [row.boot, row.seq, row.uptimeMs],
    schemaHash: textOf(schemaHash) ?? '',
    atMs: atMs !== null && atMs >= DATES.fromMs && atMs < DATES.untilMs ? atMs : null,
  };
}
