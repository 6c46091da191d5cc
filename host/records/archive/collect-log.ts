import { RefusedError } from '../../board/errors.js';
import type { Board } from '../../board/link/board.js';
import type { LogBatch } from '../../board/link/log-collection.js';
import { pause } from '../../clock.js';
import { ArchiveError } from '../archive-error.js';
import { type Archive, NumberingBeganAnew } from './archive.js';

export interface CollectReport {
  readonly board: string;
  /** Records that were not in the archive before. */
  readonly added: number;
  /** Records that came although the archive had them. */
  readonly known: number;
  /** Sequence numbers that the board has no record for. */
  readonly holes: readonly number[];
  /** Up to where the board was told that it may forget; undefined when it was not, being busy or empty. */
  readonly forgottenUptoSeq: number | undefined;
}

/** Where records go: an archive, as far as collecting needs one. */
export type CollectTarget = Pick<Archive, 'file' | 'latestLog' | 'keepRecords' | 'countHeld'>;

export interface CollectOptions {
  readonly signal?: AbortSignal;
  /** Told after each batch that is on the disk. */
  readonly onProgress?: (archivedUptoSeq: number, endSeq: number) => void;
}

/**
 * The record of the time that this connection told may still be on its way into the board's flash, and without it
 * the entries of this run have no wall time: so long it is waited for, unless the lamp keeps the flash waiting.
 */
const CLOCK_WAIT_MS = 100;
const CLOCK_WAITS = 5;

/**
 * Collects what a board logged into the archive. Before the board is told that it may forget, every record that it has
 * has been read back from the file, also those that were collected before; collected twice, or broken off anywhere,
 * nothing is lost and nothing stands there twice.
 */
export async function collectIntoArchive(
  archive: CollectTarget,
  board: Board,
  options: CollectOptions = {},
): Promise<CollectReport> {
  const start = await whereToStart(archive, board, options);
  const collection = new ArchivingCollection(archive, board, start.log, start.fromSeq - 1);
  await collection.keepAll(options);
  for (let wait = 0; wait < CLOCK_WAITS && board.clockTold && !collection.sawClock; wait++) {
    await pause(board.clock, CLOCK_WAIT_MS, options.signal);
    await collection.keepAll(options);
  }
  await collection.requireHeld();
  const { uptoSeq, added, known, holes } = collection;
  const forgotten = uptoSeq > 0 && (await tellToForget(board, uptoSeq, options));
  return { board: board.id, added, known, holes, forgottenUptoSeq: forgotten ? uptoSeq : undefined };
}

async function whereToStart(
  archive: CollectTarget,
  board: Board,
  options: CollectOptions,
): Promise<{ log: number; fromSeq: number }> {
  const { log, nextSeq } = await archive.latestLog(board.id);
  // A board of another version tells no status: everything it has is asked for, and what is known is passed over.
  if (board.mismatch !== undefined) return { log, fromSeq: 0 };
  const status = await board.status(options);
  if (status.nextSeq < nextSeq) return { log: log + 1, fromSeq: 0 };
  // What the board still has it will forget as well: that is held against the archive once more.
  return { log, fromSeq: Math.min(nextSeq, status.oldestSeq) };
}

/** Where records went: a log of the archive's, and from where to where. */
interface Kept {
  readonly log: number;
  readonly fromSeq: number;
  uptoSeq: number;
  count: number;
}

/** Batches on their way into the archive, and the count of them. */
class ArchivingCollection {
  added = 0;
  known = 0;
  uptoSeq: number;
  /** Whether the time of the board's present run came along. */
  sawClock = false;
  readonly holes: number[] = [];
  readonly #kept: Kept[] = [];
  readonly #archive: CollectTarget;
  readonly #board: Board;
  #log: number;

  constructor(archive: CollectTarget, board: Board, log: number, uptoSeq: number) {
    this.uptoSeq = Math.max(uptoSeq, 0);
    this.#archive = archive;
    this.#board = board;
    this.#log = log;
  }

  /** Collects from where it has come to, to where the log ends. */
  async keepAll(options: CollectOptions): Promise<void> {
    for await (const batch of this.#board.collect(this.uptoSeq + 1, options)) {
      await this.#keep(batch);
      options.onProgress?.(this.uptoSeq, batch.endSeq);
    }
  }

  /** @throws ArchiveError unless the file that bears the archive's name has everything that was kept in it. */
  async requireHeld(): Promise<void> {
    for (const { log, fromSeq, uptoSeq, count } of this.#kept) {
      const held = await this.#archive.countHeld(this.#board.id, log, fromSeq, uptoSeq);
      if (held !== count)
        throw new ArchiveError(
          this.#archive.file,
          `${count} records were written to it and ${held} can be read: the board keeps them; is the disk failing?`,
        );
    }
  }

  async #keep({ records, holes }: LogBatch): Promise<void> {
    const added = await this.#keepRecords(records);
    this.#noteKept(records);
    this.added += added;
    this.known += records.length - added;
    this.holes.push(...holes);
    this.uptoSeq = records.at(-1)?.seq ?? this.uptoSeq;
    const { boot } = this.#board.welcome;
    this.sawClock ||= records.some((record) => record.type === 'clock' && record.boot === boot);
  }

  async #keepRecords(records: LogBatch['records']): Promise<number> {
    const { id, welcome } = this.#board;
    try {
      return await this.#archive.keepRecords(id, this.#log, records, welcome.schemaHash);
    } catch (error) {
      if (!(error instanceof NumberingBeganAnew)) throw error;
      this.#log++;
      return this.#archive.keepRecords(id, this.#log, records, welcome.schemaHash);
    }
  }

  #noteKept(records: LogBatch['records']): void {
    if (records.length === 0) return;
    const uptoSeq = records.at(-1)!.seq;
    const last = this.#kept.at(-1);
    if (last?.log === this.#log) Object.assign(last, { uptoSeq, count: last.count + records.length });
    else this.#kept.push({ log: this.#log, fromSeq: records[0]!.seq, uptoSeq, count: records.length });
  }
}

/** False when the board is too busy to forget just now: it is told again when the log is collected next. */
async function tellToForget(board: Board, uptoSeq: number, { signal }: CollectOptions): Promise<boolean> {
  try {
    await board.forget(uptoSeq, signal ? { signal } : {});
    return true;
  } catch (error) {
    if (error instanceof RefusedError && error.code === 'busy') return false;
    throw error;
  }
}
