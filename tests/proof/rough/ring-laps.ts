/**
 * The ring of the log goes round and round, on the real core and by the real library: collected now and then, left until it
 * is full, and with the power cut. Every entry comes into the archive once and in order, and none goes before that.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Board } from '../../../host/board/link/board.js';
import { inVirtualTime } from '../../../host/board/sim/virtual-time.js';
import { pause } from '../../../host/clock.js';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { LaptopAndBoard } from '../../host/board/link/laptop.js';
import { Random } from '../../setup/random.js';

/** No quicker than the flash takes them, sectors that are erased meanwhile included. */
const ENTRY_MS = 10;
const PATIENCE_MS = 36_000_000;

export interface LapsReport {
  /** Entries that came into the archive. */
  readonly entries: number;
  /** Times that every sector of the ring was written to again. */
  readonly laps: number;
  readonly timesFull: number;
}

const RING_SECTORS = 284;

/** Tells how far it is after each stretch between two collects. */
export async function ringLaps(
  seed: number,
  laps: number,
  tell: (report: LapsReport) => void,
): Promise<LapsReport> {
  const folder = mkdtempSync(join(tmpdir(), 'treadle-laps-'));
  try {
    const ring = new RoundTheRing(seed, join(folder, 'archive.sqlite'));
    while (ring.report.laps < laps) {
      await ring.stretch();
      tell(ring.report);
    }
    await ring.requireEverything();
    return ring.report;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

class RoundTheRing {
  readonly #pair = new LaptopAndBoard();
  readonly #random: Random;
  readonly #file: string;
  #collected = 0;
  #told = 0;
  #timesFull = 0;

  constructor(seed: number, file: string) {
    this.#random = new Random(seed);
    this.#file = file;
    this.#pair.board.advanceUs(1_000_000);
  }

  get report(): LapsReport {
    const laps = Math.max(Math.min(...this.#pair.board.flash.erases.subarray(0, RING_SECTORS)) - 1, 0);
    return { entries: this.#collected, laps, timesFull: this.#timesFull };
  }

  /** Entries, perhaps until there is room for no more, perhaps a power cut, and a collect. */
  async stretch(): Promise<void> {
    const isToBrim = this.#random.chance(0.1);
    const count = isToBrim ? Number.POSITIVE_INFINITY : this.#random.between(50, 3000);
    await this.#with((board) => this.#fill(board, count));
    if (this.#random.chance(0.2)) {
      this.#pair.board.cutPower();
      this.#pair.board.advanceUs(5_000_000);
      this.#pair.board.restorePower();
      this.#pair.board.advanceUs(1_000_000);
    }
    await using archive = await openArchive(this.#file, this.#pair.clock);
    await this.#with(async (board) => {
      const { holes, forgottenUptoSeq } = await collectIntoArchive(archive, board);
      if (holes.length > 0) throw new Error(`no entries ${holes.join(', ')}`);
      if (forgottenUptoSeq === undefined) throw new Error('the board was too busy to forget');
      this.#collected = forgottenUptoSeq;
    });
  }

  async #with(work: (board: Board) => Promise<void>): Promise<void> {
    const board = await this.#pair.open();
    this.#told++;
    await inVirtualTime(this.#pair.timeline, work(board), PATIENCE_MS);
    await board.close();
    this.#pair.board.advanceUs(1_000_000);
  }

  async #fill(board: Board, count: number): Promise<void> {
    const CHECK = 500;
    let before = (await board.status()).nextSeq;
    for (let entry = 1; entry <= count; entry++) {
      await board.setClock();
      this.#told++;
      await pause(this.#pair.clock, ENTRY_MS);
      if (entry % CHECK !== 0) continue;
      const { nextSeq, oldestSeq } = await board.status();
      if (oldestSeq > this.#collected + 1)
        throw new Error(
          `entry ${this.#collected + 1} is gone before it was collected, ${oldestSeq} is the oldest`,
        );
      if (nextSeq === before) {
        this.#timesFull++;
        return;
      }
      before = nextSeq;
    }
  }

  /** @throws Error unless the archive has every number once. */
  async requireEverything(): Promise<void> {
    await using archive = await openArchive(this.#file, this.#pair.clock);
    let seq = 0;
    let clocks = 0;
    for await (const page of archive.recordPages())
      for (const record of page) {
        if (record.seq !== seq + 1) throw new Error(`entry ${record.seq} comes after ${seq}`);
        seq = record.seq;
        if (record.type === 'clock') clocks++;
      }
    if (this.#timesFull === 0 && clocks < this.#told)
      throw new Error(`${this.#told} times were told and answered, ${clocks} are in the archive`);
    if (seq < this.#collected)
      throw new Error(`${this.#collected} were collected, ${seq} are in the archive`);
  }
}
