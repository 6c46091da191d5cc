import { limits } from '../../../shared-protocol/index.js';
import type { LogRecord } from './log-record.js';

/** Records that are there already and come once more between two that are missing. */
const CHEAP_REPEATS = 2;

/** What the board told from a number on. */
export interface LogWindow {
  readonly fromSeq: number;
  /** One more than the last record that the board told. */
  readonly nextSeq: number;
  /** Up to here, and without this one, the board has told all that it can read. */
  readonly uptoSeq: number;
  readonly endSeq: number;
  readonly records: Map<number, LogRecord>;
}

export interface Stretch {
  readonly fromSeq: number;
  count: number;
}

/** A board that stops before the count has nothing more that can be read, up to the end of its log. */
export function toldUpTo(asked: Stretch, { nextSeq, endSeq }: Pick<LogWindow, 'nextSeq' | 'endSeq'>): number {
  return nextSeq - asked.fromSeq >= asked.count ? nextSeq : Math.max(nextSeq, endSeq);
}

/** What is left of a window whose telling broke off behind these; a count of 0 when its last one is there. */
export function restOf(windowSeq: number, records: ReadonlyMap<number, LogRecord>): Stretch {
  const endSeq = windowSeq + limits.collectRecords;
  const fromSeq = Math.max(windowSeq, ...[...records.keys()].map((seq) => seq + 1));
  const count = fromSeq <= endSeq ? endSeq - fromSeq : Math.max(limits.collectRecords - records.size, 1);
  return { fromSeq, count };
}

export function inOrder(window: LogWindow, wantSeq: number): LogRecord[] {
  return [...window.records.values()]
    .filter(({ seq }) => seq >= wantSeq && seq < window.uptoSeq)
    .sort((one, other) => one.seq - other.seq);
}

export function countMissing(window: LogWindow, wantSeq: number): number {
  return window.uptoSeq - wantSeq - inOrder(window, wantSeq).length;
}

export function missingFrom(window: LogWindow, wantSeq: number): number[] {
  const missing: number[] = [];
  for (let seq = wantSeq; seq < window.uptoSeq; seq++) if (!window.records.has(seq)) missing.push(seq);
  return missing;
}

/** Where more is missing than a window holds, the records that there are all come with one more window. */
export function stretchesToAskAgain(window: LogWindow, wantSeq: number, lacked: number): Stretch[] {
  return lacked > limits.collectRecords
    ? [{ fromSeq: wantSeq, count: limits.collectRecords }]
    : stretches(missingFrom(window, wantSeq));
}

/** Missing numbers in stretches to ask for; a few that are there cost less than another request. */
function stretches(missing: readonly number[]): Stretch[] {
  const found: Stretch[] = [];
  for (const seq of missing) {
    const last = found.at(-1);
    const count = last === undefined ? 0 : seq - last.fromSeq + 1;
    if (last && count - last.count - 1 <= CHEAP_REPEATS && count <= limits.collectRecords) last.count = count;
    else found.push({ fromSeq: seq, count: 1 });
  }
  return found;
}
