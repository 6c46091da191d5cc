import { openBoard } from '../../../host/board/link/open-board.js';
import { holdPedal, tapPedal } from '../../../host/board/sim/controls.js';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../host/board/sim/virtual-time.js';
import type { Clock } from '../../../host/clock.js';
import type { Archive, RecordFilter } from '../../../host/records/archive/archive.js';
import { type CollectReport, collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { type LogEntry, logEntries } from '../../../host/records/log/log-entry.js';
import { listOf } from '../../setup/list-of.js';

const SECOND_US = 1_000_000;
const MINUTE_US = 60 * SECOND_US;

/** An evening of a board and a laptop whose clock somebody sets: pulls go into the real archive. */
export class EveningWithAClock {
  readonly timeline = new Timeline();
  readonly board = new SimulatedBoard({ timeline: this.timeline });
  /** What the laptop's clock would show at the evening's beginning. */
  epochMs: number;
  readonly clock: Clock;
  readonly #file: string;

  constructor(file: string, epochMs: number) {
    this.#file = file;
    this.epochMs = epochMs;
    this.clock = {
      ...timelineClock(this.timeline),
      epochMs: () => this.epochMs + Math.floor(this.timeline.nowUs / 1000),
    };
    this.board.advanceUs(SECOND_US);
  }

  /** The laptop's clock is put forward, or with a negative figure back. */
  setClock(byMs: number): void {
    this.epochMs += byMs;
  }

  minutes(count: number): void {
    this.board.advanceUs(count * MINUTE_US);
  }

  /** Some seconds of light to focus by, and the lens confirmed. */
  light(): void {
    holdPedal(this.board, 900);
    this.board.advanceUs(4 * SECOND_US);
    tapPedal(this.board);
    holdPedal(this.board, 900);
    this.board.advanceUs(SECOND_US);
  }

  /** The laptop is plugged in, tells the time and pulls; `meanwhile` happens between the two. */
  async collect(meanwhile = () => {}): Promise<CollectReport> {
    await using archive = await openArchive(this.#file, this.clock);
    return await inVirtualTime(this.timeline, this.#collectInto(archive, meanwhile));
  }

  async #collectInto(archive: Archive, meanwhile: () => void): Promise<CollectReport> {
    const board = await openBoard(this.board.plug(), { clock: this.clock });
    meanwhile();
    const report = await collectIntoArchive(archive, board);
    await board.close();
    return report;
  }

  /** The archive's entries, as everything that shows them has them. */
  async entries(filter: RecordFilter = {}): Promise<LogEntry[]> {
    await using archive = await openArchive(this.#file, this.clock);
    return await listOf(logEntries(archive.records(filter)));
  }
}
