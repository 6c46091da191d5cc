import { limits, type Message, type MessageOf, messages } from '../../../shared-protocol/index.js';
import type { Link } from './link.js';
import { type LogRecord, recordOf, recordOfForeignLine } from './log-record.js';
import type { Requests, Verdict } from './requests.js';

/** So often, without one damaged line in between, a record must be missing from an answer to count as not there. */
const TIMES_MISSED = 3;
/** How often records are asked for again at the most. */
const LONGEST_SEARCH = 20;
/** Records that are there already and come once more between two that are missing. */
const CHEAP_REPEATS = 2;
/** Pulls under way at once, so that the wire carries the next while this side works on the last. */
const OUTSTANDING = 2;
const SEQ_LIMIT = 0xffff_ffff;

export interface LogBatch {
  /** In order of `seq`. */
  readonly records: readonly LogRecord[];
  /** Sequence numbers that the board has no record for, though it has later ones. */
  readonly holes: readonly number[];
  /** Where the log ended when this was read: one more than its newest record that can be read. */
  readonly endSeq: number;
}

interface CollectWindow {
  readonly fromSeq: number;
  readonly records: Map<number, LogRecord>;
  nextSeq: number;
  endSeq: number;
}

/**
 * The records from `fromSeq` on, in order and each once, up to the end of the log as it is when the end is reached.
 * Damaged and missing lines are asked for again. Taking a batch is what asks for more, so memory stays bounded.
 */
export async function* collectLog(
  requests: Requests,
  link: Link,
  fromSeq: number,
  signal?: AbortSignal,
): AsyncGenerator<LogBatch, void, void> {
  const ahead: Promise<CollectWindow>[] = [];
  let askSeq = fromSeq;
  let wantSeq = fromSeq;
  let endSeq = SEQ_LIMIT;
  try {
    while (wantSeq < endSeq) {
      while (ahead.length < OUTSTANDING && (askSeq < endSeq || ahead.length === 0)) {
        ahead.push(collectWindow(requests, askSeq, limits.collectRecords, signal));
        askSeq += limits.collectRecords;
      }
      const window = await ahead.shift()!;
      endSeq = window.endSeq;
      if (window.nextSeq <= wantSeq) continue;
      const holes = await fillGaps(requests, link, window, wantSeq, signal);
      yield { records: inOrder(window, wantSeq), holes, endSeq };
      wantSeq = window.nextSeq;
      askSeq = Math.max(askSeq, wantSeq);
    }
  } finally {
    for (const window of ahead) window.catch(() => {});
  }
}

async function collectWindow(
  requests: Requests,
  fromSeq: number,
  count: number,
  signal?: AbortSignal,
): Promise<CollectWindow> {
  const window: CollectWindow = { fromSeq, records: new Map(), nextSeq: fromSeq, endSeq: fromSeq };
  const keep = (record: LogRecord | undefined) => {
    if (record) window.records.set(record.seq, record);
  };
  const take = (message: Message): Verdict => {
    if (message.type === 'collected') return 'done';
    if (messages[message.type].role === 'record') keep(recordOf(message));
    return 'more';
  };
  const { answer } = await requests.ask(
    { type: 'collect', fromSeq, count },
    { signal, take, takeUnreadable: (line) => keep(recordOfForeignLine(line)) },
  );
  const { nextSeq, endSeq } = answer as MessageOf<'collected'>;
  return Object.assign(window, { nextSeq, endSeq });
}

/** Asks again for what a window lacks; answers with the numbers that are not on the board at all. */
async function fillGaps(
  requests: Requests,
  link: Link,
  window: CollectWindow,
  wantSeq: number,
  signal?: AbortSignal,
): Promise<number[]> {
  let lacked = countMissing(window, wantSeq);
  let missed = 1;
  for (let search = 0; search < LONGEST_SEARCH && lacked > 0 && missed < TIMES_MISSED; search++) {
    const damagedBefore = damage(link);
    for (const { fromSeq, count } of toAskAgain(window, wantSeq, lacked)) {
      const again = await collectWindow(requests, fromSeq, count, signal);
      for (const [seq, record] of again.records) if (seq < window.nextSeq) window.records.set(seq, record);
    }
    const still = countMissing(window, wantSeq);
    missed = still === lacked && damage(link) === damagedBefore ? missed + 1 : 1;
    lacked = still;
  }
  if (lacked > 0 && missed < TIMES_MISSED) {
    link.fail(`the line damages so much that ${lacked} records never arrive whole`);
    throw link.end;
  }
  return isJump(lacked) ? [] : missingFrom(window, wantSeq);
}

function countMissing(window: CollectWindow, wantSeq: number): number {
  return window.nextSeq - wantSeq - inOrder(window, wantSeq).length;
}

/** More than a window lacks: the board let go of them long ago, and they are never spelt out. */
function isJump(lacked: number): boolean {
  return lacked > limits.collectRecords;
}

function toAskAgain(window: CollectWindow, wantSeq: number, lacked: number): Stretch[] {
  return isJump(lacked)
    ? [{ fromSeq: wantSeq, count: limits.collectRecords }]
    : stretches(missingFrom(window, wantSeq));
}

function missingFrom(window: CollectWindow, wantSeq: number): number[] {
  const missing: number[] = [];
  for (let seq = wantSeq; seq < window.nextSeq; seq++) if (!window.records.has(seq)) missing.push(seq);
  return missing;
}

interface Stretch {
  readonly fromSeq: number;
  count: number;
}

/** Missing numbers in stretches to ask for; a few that are there cost less than another request. */
function stretches(missing: readonly number[]): Stretch[] {
  const found: Stretch[] = [];
  for (const seq of missing) {
    const last = found.at(-1);
    if (last && seq - last.fromSeq - last.count <= CHEAP_REPEATS) last.count = seq - last.fromSeq + 1;
    else found.push({ fromSeq: seq, count: 1 });
  }
  return found;
}

function damage({ counters }: Link): number {
  return counters.badLines + counters.badCrcs;
}

function inOrder(window: CollectWindow, wantSeq: number): LogRecord[] {
  return [...window.records.values()]
    .filter(({ seq }) => seq >= wantSeq && seq < window.nextSeq)
    .sort((one, other) => one.seq - other.seq);
}
