import { limits } from '../../../shared-protocol/index.js';
import type { Clock } from '../../clock.js';
import { counted } from '../../figures.js';
import { DamagedLineError, WrongAnswerError } from '../errors.js';
import type { Link } from './link.js';
import type { LogRecord } from './log-record.js';
import {
  countMissing,
  inOrder,
  type LogWindow,
  missingFrom,
  restOf,
  type Stretch,
  stretchesToAskAgain,
  toldUpTo,
} from './log-window.js';
import type { Requests } from './requests.js';
import { StretchAsker, type Told } from './stretch-asker.js';

/** So often, without one damaged line in between, a record must be missing from an answer to count as not there. */
const TIMES_MISSED = 3;
/** How often records are asked for again at the most. */
const LONGEST_SEARCH = 20;
/** Windows that are open at once: while the gaps of one are filled the wire carries the next. */
const OPEN_WINDOWS = 4;
/** As many as long as it is not known where the log begins and ends. */
const FIRST_WINDOWS = 2;
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
  readonly #asker: StretchAsker;
  readonly #link: Link;
  readonly #log: LogToCollect;
  readonly #endMs: number;
  readonly #damageBefore: number;
  /** Where the board's log is known to begin. */
  #beginSeq: number | undefined;
  /** Where it ended when the board told so last. */
  #endSeq: number | undefined;

  constructor(requests: Requests, link: Link, log: LogToCollect) {
    this.#asker = new StretchAsker(requests, link, log.signal);
    this.#link = link;
    this.#log = log;
    this.#endMs = log.clock.nowMs() + LONGEST_COLLECTION_MS;
    this.#damageBefore = link.damagedLines;
    this.#beginSeq = log.beginsThere ? log.fromSeq : undefined;
  }

  /** The records in order and each once, up to the end of the log as it is when the end is reached. */
  async *batches(): AsyncGenerator<LogBatch, void, void> {
    const ahead: Promise<LogWindow>[] = [];
    let askSeq = this.#log.fromSeq;
    let wantSeq = this.#log.fromSeq;
    let reached = Promise.resolve(wantSeq);
    let endSeq = Number.POSITIVE_INFINITY;
    const open = () => {
      const window = this.#window(askSeq);
      ahead.push(this.#fillGaps(window, reached));
      reached = furthest(reached, window);
      // Any of them may fail before its turn comes, or never get a turn; whoever awaits it is told all the same.
      for (const promise of [window, ahead.at(-1)!, reached]) promise.catch(() => {});
      askSeq += limits.collectRecords;
    };
    try {
      while (wantSeq < endSeq) {
        const most = endSeq === Number.POSITIVE_INFINITY ? FIRST_WINDOWS : OPEN_WINDOWS;
        while (ahead.length < most && (askSeq < endSeq || ahead.length === 0)) open();
        const window = await ahead.shift()!;
        endSeq = window.endSeq;
        if (window.uptoSeq <= wantSeq) continue;
        const holes = this.#holesIn(window, wantSeq);
        const records = inOrder(window, wantSeq);
        this.#checkContent(window, records);
        yield { records, holes, endSeq };
        wantSeq = window.uptoSeq;
        askSeq = Math.max(askSeq, wantSeq);
      }
    } finally {
      this.#asker.stop();
    }
  }

  async #ask(stretch: Stretch): Promise<Told> {
    const { fromSeq } = stretch;
    this.#requireTime();
    const told = await this.#asker.ask(stretch);
    if (told.end) {
      this.#checkEnd(fromSeq, told.end.nextSeq, told.end.endSeq);
      this.#endSeq = told.end.endSeq;
    }
    const earlier = [...told.records.keys()].find((seq) => seq < fromSeq);
    if (earlier !== undefined)
      throw this.#wrong(`record ${earlier} came where records from ${fromSeq} were asked for`);
    return told;
  }

  /** What the board tells from there on, gaps and all; where its telling broke off it is asked to go on. */
  async #window(fromSeq: number): Promise<LogWindow> {
    const records = new Map<number, LogRecord>();
    let rest: Stretch = { fromSeq, count: limits.collectRecords };
    for (let times = 0; times < LONGEST_SEARCH; times++) {
      const { end, records: told } = await this.#ask(rest);
      for (const [seq, record] of told) records.set(seq, record);
      if (end) return { fromSeq, ...end, uptoSeq: toldUpTo(rest, end), records };
      rest = restOf(fromSeq, records);
      if (rest.count === 0 && this.#endSeq !== undefined) {
        const nextSeq = rest.fromSeq;
        return { fromSeq, nextSeq, uptoSeq: nextSeq, endSeq: Math.max(this.#endSeq, nextSeq), records };
      }
      rest.count ||= 1;
    }
    throw this.#neverWhole('the end of an answer');
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

  /** Asks again for what a window lacks, until it is there or was missing often enough. */
  async #fillGaps(opened: Promise<LogWindow>, reached: Promise<number>): Promise<LogWindow> {
    const wantSeq = await reached;
    const window = await opened;
    let lacked = countMissing(window, wantSeq);
    let missed = 1;
    for (let search = 0; search < LONGEST_SEARCH && lacked > 0 && missed < TIMES_MISSED; search++) {
      const stretches = stretchesToAskAgain(window, wantSeq, lacked);
      const answers = await Promise.all(stretches.map((stretch) => this.#ask(stretch)));
      for (const { records } of answers)
        for (const [seq, record] of records) if (seq < window.uptoSeq) window.records.set(seq, record);
      const still = countMissing(window, wantSeq);
      missed = still === lacked && answers.every(({ isClean }) => isClean) ? missed + 1 : 1;
      lacked = still;
    }
    if (lacked > 0 && missed < TIMES_MISSED)
      throw this.#neverWhole(counted(lacked, 'log entry', 'log entries'));
    return window;
  }

  /** The numbers that are not on the board at all; those before its first record are none of them. */
  #holesIn(window: LogWindow, wantSeq: number): number[] {
    const isInside = this.#beginSeq !== undefined || countMissing(window, wantSeq) <= limits.collectRecords;
    return isInside ? missingFrom(window, wantSeq) : [];
  }

  #neverWhole(what: string): Error {
    if (this.#link.damagedLines > this.#damageBefore)
      return new DamagedLineError(this.#link.path, `${what} never arrived whole`);
    return this.#wrong(`${what} did not come, however often asked for`);
  }

  #requireTime(): void {
    if (this.#log.clock.nowMs() > this.#endMs)
      throw this.#wrong(`its log did not end within ${LONGEST_COLLECTION_MS / 60_000} minutes`);
  }

  #wrong(came: string): WrongAnswerError {
    return new WrongAnswerError(this.#link.path, 'collect', came);
  }
}

/** Up to where the board has told all it can: so far those before, and this one. */
async function furthest(before: Promise<number>, window: Promise<LogWindow>): Promise<number> {
  return Math.max(await before, (await window).uptoSeq);
}
