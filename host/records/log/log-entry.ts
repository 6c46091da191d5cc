import type { MessageOf } from '../../../shared-protocol/index.js';
import { messageOf, type RecordType } from '../../board/link/log-record.js';
import type { ArchivedRecord } from '../archive/archive.js';
import { nightOf } from './night.js';
import { RunClock } from './wall-time.js';

type Exposure = MessageOf<'exposure'>;

/** Where and when something was logged. */
interface Logged {
  readonly seq: number;
  readonly boot: number;
  /** ISO 8601 in UTC; null when no laptop told the board the time in that run. */
  readonly at: string | null;
  readonly board: string;
  /** The date of the evening, local time; null like `at`. */
  readonly night: string | null;
  readonly uptimeMs: number;
}

/** Light on paper, or for focusing: what scripts read. */
export interface ExposureEntry extends Logged {
  readonly kind: Exposure['kind'];
  readonly recipe: string;
  readonly pass: number;
  readonly patch: number;
  readonly label: string;
  readonly filter: string;
  readonly plannedMs: number;
  readonly onMs: number;
  readonly doseMs: number;
  readonly outcome: Exposure['outcome'];
  readonly pauses: number;
  readonly sheet: number;
}

type EventType = Exclude<RecordType, 'exposure' | 'clock'>;
type DetailsOf<Type extends EventType> = Omit<MessageOf<Type>, 'type' | 'id' | 'boot' | 'seq' | 'uptimeMs'>;

/** Everything else that is logged, by the name of its record; `details` are what it adds, by name. */
export type EventEntry = {
  [Type in EventType]: Logged & { readonly kind: Type; readonly details: Readonly<DetailsOf<Type>> };
}[EventType];

/** A record that only another version can read; it stays in the archive for that one. */
export interface UnreadableEntry extends Logged {
  readonly kind: 'unreadable';
  readonly details: { readonly type: string; readonly fields: readonly unknown[] };
}

export type LogEntry = ExposureEntry | EventEntry | UnreadableEntry;

export function isExposure(entry: LogEntry): entry is ExposureEntry {
  return 'plannedMs' in entry;
}

/** Records as people and scripts read them, in their order, with the dates and times that the laptop told. */
export function logEntries(records: readonly ArchivedRecord[]): LogEntry[] {
  const clocks = runClocks(records);
  return records.flatMap((record) => entryOf(record, clocks.get(runOf(record))) ?? []);
}

/** The entries of one night, given as the date of its evening (YYYY-MM-DD). */
export function entriesOfNight(entries: readonly LogEntry[], night: string): LogEntry[] {
  return entries.filter((entry) => entry.night === night);
}

function runOf({ board, log, boot }: ArchivedRecord): string {
  return `${board} ${log} ${boot}`;
}

function runClocks(records: readonly ArchivedRecord[]): Map<string, RunClock> {
  const clocks = new Map<string, RunClock>();
  for (const record of records) {
    const message = messageOf(record);
    if (message?.type !== 'clock') continue;
    const run = clocks.get(runOf(record)) ?? new RunClock();
    run.add(message);
    clocks.set(runOf(record), run);
  }
  return clocks;
}

function entryOf(record: ArchivedRecord, clock: RunClock | undefined): LogEntry | undefined {
  if (record.type === 'clock') return undefined;
  const epochMs = clock?.epochMs(record.seq, record.uptimeMs);
  const logged: Logged = {
    seq: record.seq,
    boot: record.boot,
    at: epochMs === undefined ? null : new Date(epochMs).toISOString(),
    board: record.board,
    night: epochMs === undefined ? null : nightOf(epochMs),
    uptimeMs: record.uptimeMs,
  };
  const message = messageOf(record);
  if (message === undefined || message.type === 'clock')
    return { ...logged, kind: 'unreadable', details: { type: record.type, fields: record.fields } };
  return message.type === 'exposure' ? exposureEntry(logged, message) : eventEntry(logged, message);
}

function exposureEntry(logged: Logged, message: Exposure): ExposureEntry {
  const { kind, recipe, pass, patch, label, filter, plannedMs, onMs, doseMs, outcome, pauses, sheet } =
    message;
  const { seq, boot, at, ...rest } = logged;
  // In this order, because people look at it too.
  return {
    ...{ seq, boot, at, kind, recipe, pass, label, filter, plannedMs, onMs, doseMs, outcome, pauses },
    ...{ patch, sheet, ...rest },
  };
}

function eventEntry(logged: Logged, message: MessageOf<EventType>): EventEntry {
  const { type, id: _id, boot: _boot, seq: _seq, uptimeMs: _uptimeMs, ...details } = message;
  return { ...logged, kind: type, details } as EventEntry;
}
