import { type LineOf, limits } from '../../../shared-protocol/index.js';
import type { Clock } from '../../clock.js';
import { counted } from '../../figures.js';
import { DamagedLineError, WrongAnswerError } from '../errors.js';
import type { Link } from './link.js';
import { type LogRecord, recordOf, recordOfForeignLine } from './log-record.js';
import { countMissing, inOrder, type LogWindow, missingFrom, stretchesToAskAgain } from './log-window.js';
import type { Requests } from './requests.js';

/** So often, without one damaged line in between, a record must be missing from an answer to count as not there. */
const TIMES_MISSED = 3;
/** How often records are asked for again at the most. */
const LONGEST_SEARCH = 20;
/** Windows asked for at once, so that the wire carries the next while this side works on the last. */
const OUTSTANDING = 2;
/**
 * The longest that collecting may take in all: a full log takes seven minutes at the usual rate, and what was brought
 * by then is not asked for again the next time.
 */
const LONGEST_COLLECTION_MS = 3_600_000;

export interface LogBatch {
  /** In order of `seq`. */
  readonly records: readonly LogRecord[];
  /** Sequence numbers that the board has no record for, though it has later ones. */
  readonly holes: readonly number[];
  /** Where the log ended when this was read: one more than its newest record. */
  readonly endSeq: number;
}

export interface LogToCollect {
  readonly fromSeq: number;
  /** Whether the board has nothing older than that, or would tell it: then every number that is missing is a hole. */
  readonly beginsThere: boolean;
  /** As many entries as a board can have: a longer log is not believed. */
  readonly mostEntries: number;
  readonly clock: Clock;
  readonly signal?: AbortSignal | undefined;
}

/**
 * The log from a record on, window by window, within bounds of number and time whatever the board says. Damaged and
 * missing lines are asked for again. Taking a batch is what asks for more, so memory stays bounded.
 */
export class LogCollection {
  readonly #requests: Requests;
  readonly #link: Link;
  readonly #log: LogToCollect;
  readonly #endMs: number;
  readonly #damageBefore: number;
  /** Where the board's log is known to begin. */
  #beginSeq: number | undefined;

  constructor(requests: Requests, link: Link, log: LogToCollect) {
    this.#requests = requests;
    this.#link = link;
    this.#log = log;
    this.#endMs = log.clock.nowMs() + LONGEST_COLLECTION_MS;
    this.#damageBefore = this.#damage;
    this.#beginSeq = log.beginsThere ? log.fromSeq : undefined;
  }

  /** The records in order and each once, up to the end of the log as it is when the end is reached. */
  async *batches(): AsyncGenerator<LogBatch, void, void> {
    const ahead: Promise<LogWindow>[] = [];
    let askSeq = this.#log.fromSeq;
    let wantSeq = this.#log.fromSeq;
    let endSeq = Number.POSITIVE_INFINITY;
    while (wantSeq < endSeq) {
      while (ahead.length < OUTSTANDING && (askSeq < endSeq || ahead.length === 0)) {
        const window = this.#window(askSeq, limits.collectRecords);
        // It may fail before its turn comes, or never get a turn; whoever awaits it is told all the same.
        window.catch(() => {});
        ahead.push(window);
        askSeq += limits.collectRecords;
      }
      const window = await ahead.shift()!;
      endSeq = window.endSeq;
      if (window.uptoSeq <= wantSeq) continue;
      const holes = await this.#fillGaps(window, wantSeq);
      const records = inOrder(window, wantSeq);
      this.#checkContent(window, records);
      yield { records, holes, endSeq };
      wantSeq = window.uptoSeq;
      askSeq = Math.max(askSeq, wantSeq);
    }
  }

  async #window(fromSeq: number, count: number): Promise<LogWindow> {
    this.#requireTime();
    const records = new Map<number, LogRecord>();
    const keep = (record: LogRecord | undefined) => {
      if (record) records.set(record.seq, record);
    };
    const { answer } = await this.#requests.ask(
      { type: 'collect', fromSeq, count },
      {
        signal: this.#log.signal,
        take: (record: LineOf<'collect'>) => keep(recordOf(record)),
        takeUnreadable: (line) => keep(recordOfForeignLine(line)),
      },
    );
    const { nextSeq, endSeq } = answer;
    this.#checkEnd(fromSeq, nextSeq, endSeq);
    const told = [...records.keys()].find((seq) => seq < fromSeq);
    if (told !== undefined)
      throw this.#wrong(`record ${told} came where records from ${fromSeq} were asked for`);
    // A board that stops before the count has nothing more that can be read, up to the end of its log.
    const uptoSeq = nextSeq - fromSeq >= count ? nextSeq : Math.max(nextSeq, endSeq);
    return { fromSeq, nextSeq, uptoSeq, endSeq, records };
  }

  #checkEnd(fromSeq: number, nextSeq: number, endSeq: number): void {
    if (nextSeq < fromSeq) throw this.#wrong(`it went backwards, from record ${fromSeq} to ${nextSeq}`);
    if (nextSeq > Math.max(fromSeq, endSeq))
      throw this.#wrong(`it went on at record ${nextSeq}, past its end at ${endSeq}`);
    const length = this.#beginSeq === undefined ? 0 : endSeq - this.#beginSeq;
    if (length > this.#log.mostEntries)
      throw this.#wrong(`it told of ${length} entries, more than fit on it`);
  }

  /** A window that leads on has brought a record: that is what keeps a log of any length bounded. */
  #checkContent({ fromSeq, nextSeq, endSeq }: LogWindow, records: readonly LogRecord[]): void {
    const [first] = records;
    if (first === undefined && nextSeq > fromSeq)
      throw this.#wrong(`it told of records up to ${nextSeq - 1}, and none came`);
    if (first !== undefined) this.#beginSeq ??= first.seq;
    this.#checkEnd(fromSeq, nextSeq, endSeq);
  }

  /** Asks again for what a window lacks; answers with the numbers that are not on the board at all. */
  async #fillGaps(window: LogWindow, wantSeq: number): Promise<number[]> {
    let lacked = countMissing(window, wantSeq);
    let missed = 1;
    for (let search = 0; search < LONGEST_SEARCH && lacked > 0 && missed < TIMES_MISSED; search++) {
      const damagedBefore = this.#damage;
      for (const { fromSeq, count } of stretchesToAskAgain(window, wantSeq, lacked)) {
        const again = await this.#window(fromSeq, count);
        for (const [seq, record] of again.records) if (seq < window.uptoSeq) window.records.set(seq, record);
      }
      const still = countMissing(window, wantSeq);
      missed = still === lacked && this.#damage === damagedBefore ? missed + 1 : 1;
      lacked = still;
    }
    if (lacked > 0 && missed < TIMES_MISSED) throw this.#neverWhole(lacked);
    return this.#beginSeq !== undefined || lacked <= limits.collectRecords
      ? missingFrom(window, wantSeq)
      : [];
  }

  #neverWhole(lacked: number): Error {
    const entries = counted(lacked, 'log entry', 'log entries');
    if (this.#damage > this.#damageBefore)
      return new DamagedLineError(this.#link.path, `${entries} never arrived whole`);
    return this.#wrong(`${entries} did not come, however often they were asked for`);
  }

  get #damage(): number {
    const { badLines, badCrcs } = this.#link.counters;
    return badLines + badCrcs;
  }

  #requireTime(): void {
    if (this.#log.clock.nowMs() > this.#endMs)
      throw this.#wrong(`its log did not end within ${LONGEST_COLLECTION_MS / 60_000} minutes`);
  }

  #wrong(came: string): WrongAnswerError {
    return new WrongAnswerError(this.#link.path, 'collect', came);
  }
}
