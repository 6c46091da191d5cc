import { RefusedError } from '../errors.js';
import type { Board } from '../link/board.js';
import type { LogBatch } from '../link/log-pull.js';
import { type Archive, NumberingBeganAnew } from './archive.js';

export interface PullReport {
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

export interface PullOptions {
  readonly signal?: AbortSignal;
  /** Told after each batch that is on the disk. */
  readonly onProgress?: (archivedUptoSeq: number, endSeq: number) => void;
}

/**
 * Pulls what a board logged into the archive. A record is on this disk before the board is told that it may forget
 * it; pulled twice, or broken off anywhere, nothing is lost and nothing stands there twice.
 */
export async function pullIntoArchive(
  archive: Archive,
  board: Board,
  options: PullOptions = {},
): Promise<PullReport> {
  const start = await whereToStart(archive, board, options);
  const pull = new ArchivingPull(archive, board, start.log);
  for await (const batch of board.pull(start.fromSeq, options)) {
    pull.keep(batch);
    options.onProgress?.(pull.uptoSeq, batch.endSeq);
  }
  const uptoSeq = Math.max(pull.uptoSeq, start.fromSeq - 1);
  const forgotten = uptoSeq > 0 && (await tellToForget(board, uptoSeq, options));
  const { added, known, holes } = pull;
  return { board: board.id, added, known, holes, forgottenUptoSeq: forgotten ? uptoSeq : undefined };
}

async function whereToStart(
  archive: Archive,
  board: Board,
  options: PullOptions,
): Promise<{ log: number; fromSeq: number }> {
  const { log, nextSeq } = archive.latestLog(board.id);
  // A board of another version tells no status: everything it has is asked for, and what is known is passed over.
  if (board.mismatch !== undefined) return { log, fromSeq: 0 };
  const status = await board.status(options);
  return status.nextSeq < nextSeq ? { log: log + 1, fromSeq: 0 } : { log, fromSeq: nextSeq };
}

/** Batches on their way into the archive, and the count of them. */
class ArchivingPull {
  added = 0;
  known = 0;
  uptoSeq = 0;
  readonly holes: number[] = [];
  readonly #archive: Archive;
  readonly #board: Board;
  #log: number;

  constructor(archive: Archive, board: Board, log: number) {
    this.#archive = archive;
    this.#board = board;
    this.#log = log;
  }

  keep({ records, holes }: LogBatch): void {
    const added = this.#keepRecords(records);
    this.added += added;
    this.known += records.length - added;
    this.holes.push(...holes);
    this.uptoSeq = records.at(-1)?.seq ?? this.uptoSeq;
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
async function tellToForget(board: Board, uptoSeq: number, { signal }: PullOptions): Promise<boolean> {
  try {
    await board.forget(uptoSeq, signal ? { signal } : {});
    return true;
  } catch (error) {
    if (error instanceof RefusedError && error.code === 'busy') return false;
    throw error;
  }
}
