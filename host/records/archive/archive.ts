import type { Database } from 'libsql';
import { nameNow, schemaHash } from '../../../shared-protocol/index.js';
import type { LogRecord } from '../../board/link/log-record.js';
import type { BoardRecipe } from '../../board/link/recipe-upload.js';
import { type Clock, systemClock } from '../../clock.js';
import { archiveTrouble, openArchiveFile, usualArchiveFile } from './archive-file.js';
import { inTransaction } from './transaction.js';

/** A record as the archive keeps it. */
export interface ArchivedRecord extends LogRecord {
  readonly board: string;
  /** Rises when a board's numbering began anew. */
  readonly log: number;
  readonly schemaHash: string;
}

/** A recipe as it was pushed once. */
export interface KeptRecipe {
  readonly id: number;
  readonly recipe: BoardRecipe;
  /** The board it was pushed to. */
  readonly board: string | null;
  readonly keptMs: number;
}

/** What somebody thought of a print once it was dry. */
export interface Remark {
  readonly name: string;
  readonly version: number;
  /** 1 (waste) to 5 (this is the print). */
  readonly rating: number | null;
  readonly words: string;
  readonly writtenMs: number;
}

export interface RecordFilter {
  readonly board?: string;
}

/** The record's number is taken by another record: the board's numbering began anew. */
export class NumberingBeganAnew extends Error {
  override readonly name = 'NumberingBeganAnew';
}

interface RecordRow {
  readonly board: string;
  readonly log: number;
  readonly boot: number;
  readonly seq: number;
  readonly uptime_ms: number;
  readonly type: string;
  readonly fields: string;
  readonly schema_hash: string;
}

interface RecipeRow {
  readonly id: number;
  readonly board: string | null;
  readonly body: string;
  readonly kept_ms: number;
}

/** What the boards logged and which recipes were pushed, in one SQLite file. All methods may throw ArchiveError. */
export class Archive {
  readonly file: string;
  readonly #database: Database;
  readonly #clock: Clock;

  private constructor(file: string, database: Database, clock: Clock) {
    this.file = file;
    this.#database = database;
    this.#clock = clock;
  }

  /** Opens `file`, or the usual archive; makes it when there is none. @throws ArchiveError */
  static async open(file = usualArchiveFile(), clock = systemClock): Promise<Archive> {
    return new Archive(file, await openArchiveFile(file), clock);
  }

  /** The number of a board's latest log, and the first sequence number that is not archived of it. */
  latestLog(board: string): { log: number; nextSeq: number } {
    return this.#try(() => {
      const row = this.#database
        .prepare(
          'SELECT log, max(seq) AS last FROM record WHERE board = ? GROUP BY log ORDER BY log DESC LIMIT 1',
        )
        .get(board) as { log: number; last: number } | undefined;
      return row === undefined ? { log: 0, nextSeq: 0 } : { log: row.log, nextSeq: row.last + 1 };
    });
  }

  /**
   * Keeps all of `records` or, if anything goes wrong, none; they are on the disk when it returns. Records that are
   * there already are passed over. Answers with how many were new.
   * @throws NumberingBeganAnew when another record bears the number of one of them.
   */
  keepRecords(board: string, log: number, records: readonly LogRecord[], itsSchemaHash = schemaHash): number {
    const insert = this.#database.prepare(
      `INSERT INTO record (board, log, boot, seq, uptime_ms, type, fields, schema_hash, pulled_ms)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
    );
    const collectedMs = Math.round(this.#clock.epochMs());
    return this.#try(() =>
      inTransaction(this.#database, () => {
        let added = 0;
        for (const record of records) {
          const { boot, seq, uptimeMs, type } = record;
          const fields = JSON.stringify(record.fields);
          const { changes } = insert.run(
            board,
            log,
            boot,
            seq,
            uptimeMs,
            type,
            fields,
            itsSchemaHash,
            collectedMs,
          );
          if (changes === 0) this.#requireSame(board, log, record);
          added += changes;
        }
        return added;
      }),
    );
  }

  /** Records in the order they were made, board by board. */
  records(filter: RecordFilter = {}): ArchivedRecord[] {
    return this.#try(() => {
      const rows = this.#database
        .prepare(
          `SELECT board, log, boot, seq, uptime_ms, type, fields, schema_hash FROM record
           WHERE :board IS NULL OR board = :board ORDER BY board, log, seq, boot`,
        )
        .all({ board: filter.board ?? null }) as RecordRow[];
      return rows.map((row) => ({
        board: row.board,
        log: row.log,
        boot: row.boot,
        seq: row.seq,
        uptimeMs: row.uptime_ms,
        type: row.type,
        fields: JSON.parse(row.fields) as unknown[],
        schemaHash: row.schema_hash,
      }));
    });
  }

  /** Keeps a recipe as it is being pushed. A recipe that is the same as the latest of its name is kept once. */
  keepRecipe(recipe: BoardRecipe, board: string | null): void {
    this.#try(() => {
      const body = JSON.stringify(recipe);
      const latest = this.#database
        .prepare('SELECT body, board FROM recipe WHERE name = ? ORDER BY id DESC LIMIT 1')
        .get(recipe.name) as { body: string; board: string | null } | undefined;
      if (latest?.body === body && latest.board === board) return;
      this.#database
        .prepare(
          'INSERT INTO recipe (name, version, negative, board, body, kept_ms) VALUES (?, ?, ?, ?, ?, ?)',
        )
        .run(recipe.name, recipe.version, recipe.negative, board, body, Math.round(this.#clock.epochMs()));
    });
  }

  /** Recipes kept, oldest first; of one name, or all. */
  recipes(name?: string): KeptRecipe[] {
    return this.#try(() => {
      const rows = this.#database
        .prepare(
          'SELECT id, board, body, kept_ms FROM recipe WHERE :name IS NULL OR name = :name ORDER BY id',
        )
        .all({ name: name ?? null }) as RecipeRow[];
      return rows.map(({ id, board, body, kept_ms }) => ({
        id,
        board,
        recipe: JSON.parse(body) as BoardRecipe,
        keptMs: kept_ms,
      }));
    });
  }

  /** Adds a remark to a version of a recipe; earlier ones stay. */
  addRemark({ name, version, rating, words }: Omit<Remark, 'writtenMs'>): void {
    this.#try(() =>
      this.#database
        .prepare('INSERT INTO remark (name, version, rating, words, written_ms) VALUES (?, ?, ?, ?, ?)')
        .run(name, version, rating, words, Math.round(this.#clock.epochMs())),
    );
  }

  /** Remarks on every version of every recipe, oldest first. */
  remarks(): Remark[] {
    return this.#try(
      () =>
        this.#database
          .prepare('SELECT name, version, rating, words, written_ms AS writtenMs FROM remark ORDER BY id')
          .all() as Remark[],
    );
  }

  close(): void {
    this.#database.close();
  }

  [Symbol.dispose](): void {
    this.close();
  }

  /** A board that was wiped starts numbering anew; the same record pulled twice has the same uptime and type. */
  #requireSame(board: string, log: number, { boot, seq, uptimeMs, type }: LogRecord): void {
    const there = this.#database
      .prepare('SELECT uptime_ms, type FROM record WHERE board = ? AND log = ? AND boot = ? AND seq = ?')
      .get(board, log, boot, seq) as { uptime_ms: number; type: string };
    if (there.uptime_ms !== uptimeMs || nameNow(there.type) !== nameNow(type))
      throw new NumberingBeganAnew(`record ${seq} of board ${board} is another one than the one archived`);
  }

  #try<Result>(work: () => Result): Result {
    try {
      return work();
    } catch (error) {
      throw error instanceof NumberingBeganAnew ? error : archiveTrouble(this.file, error);
    }
  }
}
