import type { Database } from 'libsql';
import { nameNow, schemaHash } from '../../../shared-protocol/index.js';
import type { LogRecord } from '../../board/link/log-record.js';
import { type Clock, systemClock } from '../../clock.js';
import type { BoardRecipe } from '../../recipe/board-recipe.js';
import type { Recipe } from '../../recipe/recipe.js';
import {
  type Archive,
  type Keeping,
  type KeptPaperReading,
  NumberingBeganAnew,
  type Remark,
  type Run,
} from './archive.js';
import { archivePath, checkCouldBeMade, usualArchiveFile } from './archive-name.js';
import { damaged } from './archive-trouble.js';
import { connectToReadBack, connectToWrite, loadLibsql } from './connection.js';
import { dateByHand } from './date-by-hand.js';
import { dateRecords } from './date-records.js';
import { FileReader } from './file-reader.js';
import { canonicalJson, putContent } from './recipe-contents.js';
import { textColumn, textOf, wholeColumn } from './rows.js';
import { inTransaction } from './transaction.js';

/**
 * Opens an archive to write to it, or the usual one. Where there is none yet it is made with the first thing that is
 * kept in it, so that nothing is left behind where nothing was kept.
 * @throws ArchiveError where it cannot be written, or is no archive
 */
export async function openArchive(name = usualArchiveFile(), clock = systemClock): Promise<Archive> {
  const { path, there } = archivePath(name);
  const Libsql = await loadLibsql(path);
  if (there === undefined) checkCouldBeMade(path);
  const open = () => connectToWrite(Libsql, path);
  const readBack = () => connectToReadBack(Libsql, path);
  return new FileArchive(path, there === undefined ? undefined : open(), open, readBack, clock);
}

interface StoredRow {
  readonly seq: number;
  readonly boot: number;
  readonly uptimeMs: number;
  readonly type: ArrayBuffer;
  readonly fields: ArrayBuffer;
}

const storedColumns = `${wholeColumn('seq')}, ${wholeColumn('boot')}, ${wholeColumn('uptime_ms', 'uptimeMs')},
  ${textColumn('type')}, ${textColumn('fields')}`;

/** The archive as one SQLite file. */
class FileArchive extends FileReader implements Archive {
  readonly #open: () => Database;
  readonly #readBack: () => Database;
  readonly #clock: Clock;

  constructor(
    file: string,
    database: Database | undefined,
    open: () => Database,
    readBack: () => Database,
    clock: Clock,
  ) {
    super(file, database);
    this.#open = open;
    this.#readBack = readBack;
    this.#clock = clock;
  }

  async latestLog(board: string): Promise<{ log: number; nextSeq: number }> {
    const [row] = this.read<{ log: number; last: number }>(
      'SELECT log, seq AS last FROM record WHERE board = :board ORDER BY log DESC, seq DESC LIMIT 1',
      { board },
    );
    return row === undefined ? { log: 0, nextSeq: 0 } : { log: row.log, nextSeq: row.last + 1 };
  }

  async keepRecords(
    board: string,
    log: number,
    records: readonly LogRecord[],
    itsSchemaHash = schemaHash,
  ): Promise<number> {
    if (records.length === 0) return 0;
    const added = this.#write((database) => {
      const changed = this.#insert(database, board, log, records, itsSchemaHash);
      for (const { boot, firstSeq, marksCame } of runsOf(changed.records))
        dateRecords(database, { board, log, boot }, firstSeq, marksCame);
      return changed.added;
    });
    this.#expectHeld(board, log, records);
    return added;
  }

  async countHeld(board: string, log: number, fromSeq: number, uptoSeq: number): Promise<number> {
    return this.#fresh((database) => storedBetween(database, board, log, fromSeq, uptoSeq).length);
  }

  async keepRecipe(
    recipe: BoardRecipe | Recipe,
    board: string | null,
    { how = 'sent', bodyCrc }: Keeping = {},
  ): Promise<void> {
    const { name, version } = recipe;
    this.#write((database) => {
      const content = putContent(database, name, version, canonicalJson(recipe)!);
      const latest = latestOf(database, name);
      const isKept = latest !== undefined && latest.content === content && latest.board === board;
      if (isKept && (bodyCrc === undefined || latest.bodyCrc === bodyCrc)) return;
      database
        .prepare(
          `INSERT INTO recipe (name, version, board, content, how, body_crc, kept_ms) VALUES (?, ?, ?, ?, ?, ?, ?)`,
        )
        .run(name, version, board, content, how, bodyCrc ?? null, this.#nowMs);
    });
  }

  async dateByHand(run: Run, night: string | null): Promise<void> {
    this.#write((database) => dateByHand(database, run, night, this.#nowMs));
  }

  async nameBoard(board: string, name: string): Promise<void> {
    if (((await this.boardNames()).get(board) ?? '') === name) return;
    this.#write((database) => {
      database.prepare('DELETE FROM board_name WHERE board = ?').run(board);
      if (name !== '')
        database.prepare('INSERT INTO board_name (board, name) VALUES (?, ?)').run(board, name);
    });
  }

  async addRemark(remark: Omit<Remark, 'writtenMs'>): Promise<void> {
    const { name, version, content, rating, words, sheet } = remark;
    const place = [sheet?.board ?? null, sheet?.log ?? null, sheet?.boot ?? null, sheet?.seq ?? null];
    this.#write((database) =>
      database
        .prepare(
          `INSERT INTO remark (name, version, content, rating, words, written_ms, board, log, boot, seq)
           VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
        )
        .run(name, version, content, rating, words, this.#nowMs, ...place),
    );
  }

  async addPaperReading({ paper, developer, body }: Omit<KeptPaperReading, 'keptMs'>): Promise<void> {
    this.#write((database) =>
      database
        .prepare('INSERT INTO paper_reading (paper, developer, body, kept_ms) VALUES (?, ?, ?, ?)')
        .run(paper, developer, JSON.stringify(body), this.#nowMs),
    );
  }

  get #nowMs(): number {
    return Math.round(this.#clock.epochMs());
  }

  #write<Result>(work: (database: Database) => Result): Result {
    this.database ??= this.#open();
    const { database } = this;
    return this.attempt(() => inTransaction(database, () => work(database)));
  }

  /** What somebody else would find in the file that bears the name now. */
  #fresh<Result>(work: (database: Database) => Result): Result {
    const database = this.#readBack();
    try {
      return this.attempt(() => work(database));
    } finally {
      database.close();
    }
  }

  #insert(
    database: Database,
    board: string,
    log: number,
    records: readonly LogRecord[],
    itsSchemaHash: string,
  ): { added: number; records: LogRecord[] } {
    const insert = database.prepare(
      `INSERT INTO record (board, log, boot, seq, uptime_ms, type, fields, schema_hash, collected_ms)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
    );
    const known: LogRecord[] = [];
    const fresh = records.filter((record) => {
      const { boot, seq, uptimeMs, type, fields } = record;
      const values = [
        board,
        log,
        boot,
        seq,
        uptimeMs,
        type,
        JSON.stringify(fields),
        itsSchemaHash,
        this.#nowMs,
      ];
      const isNew = insert.run(...values).changes > 0;
      if (!isNew) known.push(record);
      return isNew;
    });
    return { added: fresh.length, records: [...fresh, ...this.#putRight(database, board, log, known)] };
  }

  /**
   * Records that are there already must be the same ones. Where most are, what differs has changed in the file, and
   * the board's word is taken; where they are not, the board began to number anew after its storage was wiped.
   */
  #putRight(database: Database, board: string, log: number, known: readonly LogRecord[]): LogRecord[] {
    const [first, last] = [known[0]?.seq ?? 0, known.at(-1)?.seq ?? -1];
    const stored = keyed(storedBetween(database, board, log, first, last));
    const differing = known.filter((record) => !isSame(stored.get(keyOf(record)), record));
    const others = differing.filter((record) => isAnother(stored.get(keyOf(record)), record));
    if (others.length > 0 && others.length * 2 >= known.length)
      throw new NumberingBeganAnew(
        `record ${others[0]!.seq} of board ${board} is another one than the one archived`,
      );
    const set = database.prepare(
      'UPDATE record SET uptime_ms = ?, type = ?, fields = ? WHERE board = ? AND log = ? AND boot = ? AND seq = ?',
    );
    for (const { boot, seq, uptimeMs, type, fields } of differing)
      set.run(uptimeMs, type, JSON.stringify(fields), board, log, boot, seq);
    return differing;
  }

  /** @throws ArchiveError unless all of these can be read from the file as they were told. */
  #expectHeld(board: string, log: number, records: readonly LogRecord[]): void {
    const [first, last] = [records[0]!.seq, records.at(-1)!.seq];
    const stored = this.#fresh((database) => keyed(storedBetween(database, board, log, first, last)));
    const lacking = records.find((record) => !isSame(stored.get(keyOf(record)), record));
    if (lacking !== undefined) throw damaged(this.file, `record ${lacking.seq} cannot be read back`);
  }
}

function latestOf(database: Database, name: string) {
  const row = database
    .prepare(
      `SELECT ${textColumn('content')}, ${textColumn('board')}, ${textColumn('body_crc', 'bodyCrc')}
       FROM recipe WHERE name = ? ORDER BY id DESC LIMIT 1`,
    )
    .get(name) as Record<'content' | 'board' | 'bodyCrc', ArrayBuffer | null> | undefined;
  const text = (bytes: ArrayBuffer | null) => textOf(bytes) ?? null;
  return row && { content: text(row.content), board: text(row.board), bodyCrc: text(row.bodyCrc) };
}

function storedBetween(
  database: Database,
  board: string,
  log: number,
  fromSeq: number,
  uptoSeq: number,
): StoredRow[] {
  return database
    .prepare(
      `SELECT ${storedColumns} FROM record WHERE board = ? AND log = ? AND seq >= ? AND seq <= ? ORDER BY record.seq`,
    )
    .all(board, log, fromSeq, uptoSeq) as StoredRow[];
}

function keyed(rows: readonly StoredRow[]): Map<string, StoredRow> {
  return new Map(rows.map((row) => [keyOf(row), row]));
}

function keyOf({ boot, seq }: { readonly boot: number; readonly seq: number }): string {
  return `${boot} ${seq}`;
}

/** Whether the row holds this record, perhaps under a name that it had in a former version. */
function isSame(row: StoredRow | undefined, { uptimeMs, type, fields }: LogRecord): boolean {
  return (
    row !== undefined &&
    row.uptimeMs === uptimeMs &&
    nameNow(textOf(row.type) ?? '') === nameNow(type) &&
    textOf(row.fields) === JSON.stringify(fields)
  );
}

/** Whether the row holds another record: one of another moment or another type. */
function isAnother(row: StoredRow | undefined, { uptimeMs, type }: LogRecord): boolean {
  return row === undefined || row.uptimeMs !== uptimeMs || nameNow(textOf(row.type) ?? '') !== nameNow(type);
}

/** The runs that these records belong to, and from where on each has changed. */
function runsOf(
  records: readonly LogRecord[],
): Iterable<{ readonly boot: number; readonly firstSeq: number; readonly marksCame: boolean }> {
  const runs = new Map<number, { boot: number; firstSeq: number; marksCame: boolean }>();
  for (const { boot, seq, type } of records) {
    const run = runs.get(boot) ?? { boot, firstSeq: seq, marksCame: false };
    run.firstSeq = Math.min(run.firstSeq, seq);
    run.marksCame ||= type === 'clock';
    runs.set(boot, run);
  }
  return runs.values();
}
