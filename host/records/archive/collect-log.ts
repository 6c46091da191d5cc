import { RefusedError } from '../../board/errors.js';
import type { Board } from '../../board/link/board.js';
import type { LogBatch } from '../../board/link/log-collection.js';
import { pause } from '../../clock.js';
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

/** Where records go: an archive, as far as pulling needs one. */
export type CollectTarget = Pick<Archive, 'latestLog' | 'keepRecords'>;

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
 * Pulls what a board logged into the archive. A record is on this disk before the board is told that it may forget
 * it; pulled twice, or broken off anywhere, nothing is lost and nothing stands there twice.
 */
export async function collectIntoArchive(
  archive: CollectTarget,
  board: Board,
  options: CollectOptions = {},
): Promise<CollectReport> {
  const start = await whereToStart(archive, board, options);
  const pull = new ArchivingCollection(archive, board, start.log, start.fromSeq - 1);
  await pull.keepAll(options);
  for (let wait = 0; wait < CLOCK_WAITS && board.clockTold && !pull.sawClock; wait++) {
    await pause(board.clock, CLOCK_WAIT_MS, options.signal);
    await pull.keepAll(options);
  }
  const { uptoSeq } = pull;
  const forgotten = uptoSeq > 0 && (await tellToForget(board, uptoSeq, options));
  const { added, known, holes } = pull;
  return { board: board.id, added, known, holes, forgottenUptoSeq: forgotten ? uptoSeq : undefined };
}

async function whereToStart(
  archive: CollectTarget,
  board: Board,
  options: CollectOptions,
): Promise<{ log: number; fromSeq: number }> {
  const { log, nextSeq } = archive.latestLog(board.id);
  // A board of another version tells no status: everything it has is asked for, and what is known is passed over.
  if (board.mismatch !== undefined) return { log, fromSeq: 0 };
  const status = await board.status(options);
  return status.nextSeq < nextSeq ? { log: log + 1, fromSeq: 0 } : { log, fromSeq: nextSeq };
}

/** Batches on their way into the archive, and the count of them. */
class ArchivingCollection {
  added = 0;
  known = 0;
  uptoSeq: number;
  /** Whether the time of the board's present run came along. */
  sawClock = false;
  readonly holes: number[] = [];
  readonly #archive: CollectTarget;
  readonly #board: Board;
  #log: number;

  constructor(archive: CollectTarget, board: Board, log: number, uptoSeq: number) {
    this.uptoSeq = Math.max(uptoSeq, 0);
    this.#archive = archive;
    this.#board = board;
    this.#log = log;
  }

  /** Pulls from where the archive ends to where the log ends. */
  async keepAll(options: CollectOptions): Promise<void> {
    for await (const batch of this.#board.collect(this.uptoSeq + 1, options)) {
      this.#keep(batch);
      options.onProgress?.(this.uptoSeq, batch.endSeq);
    }
  }

  #keep({ records, holes }: LogBatch): void {
    const added = this.#keepRecords(records);
    this.added += added;
    this.known += records.length - added;
    this.holes.push(...holes);
    this.uptoSeq = records.at(-1)?.seq ?? this.uptoSeq;
    const { boot } = this.#board.welcome;
    this.sawClock ||= records.some((record) => record.type === 'clock' && record.boot === boot);
  }

  #keepRecords(records: LogBatch['records']): number {
    const { id, welcome } = this.#board;
    try {
      return this.#archive.keepRecords(id, this.#log, records, welcome.schemaHash);
    } catch (error) {
      if (!(error instanceof NumberingBeganAnew)) throw error;
      this.#log++;
      return this.#archive.keepRecords(id, this.#log, records, welcome.schemaHash);
    }
  }
}

/** False when the board is too busy to forget just now: it is told again after the next pull. */
async function tellToForget(board: Board, uptoSeq: number, { signal }: CollectOptions): Promise<boolean> {
  try {
    await board.forget(uptoSeq, signal ? { signal } : {});
    return true;
  } catch (error) {
    if (error instanceof RefusedError && error.code === 'busy') return false;
    throw error;
  }
}
