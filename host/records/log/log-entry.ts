import type { MessageOf } from '../../../shared-protocol/index.js';
import { type RecordType, readRecord } from '../../../shared-protocol/read-record.js';
import type { ArchivedRecord, SheetNote, SheetNotes } from '../archive/archive.js';
import { isUsableTime } from '../archive/dating.js';
import { nightOf } from './night.js';

type Exposure = MessageOf<'exposure'>;

/** Where and when something was logged. */
interface Logged {
  readonly seq: number;
  readonly boot: number;
  /** ISO 8601 in UTC; null when no laptop told the board a usable time in that run. */
  readonly at: string | null;
  readonly board: string;
  /** Rises when a board's numbering began anew. */
  readonly log: number;
  /** The date of the evening, local time; null like `at`, unless a person gave it one. */
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
  [Type in EventType]: Logged & {
    readonly kind: Type;
    readonly details: Readonly<DetailsOf<Type>>;
  } & SheetNote;
}[EventType];

/** A record that only another version can read; it stays in the archive for that one. */
export interface UnreadableEntry extends Logged {
  readonly kind: 'unreadable';
  readonly details: { readonly type: string; readonly fields: readonly unknown[] };
}

/** A clock mark whose time cannot be right: no entry is dated by it. */
export interface UnusableClockEntry extends Logged {
  readonly kind: 'unusable-clock';
  readonly details: { readonly epochMs: number | null };
}

export type LogEntry = ExposureEntry | EventEntry | UnreadableEntry | UnusableClockEntry;

export function isExposure(entry: LogEntry): entry is ExposureEntry {
  return 'plannedMs' in entry;
}

/** Records as people and scripts read them, in their order, with what is known of their sheets besides. */
export async function* logEntries(
  records: AsyncIterable<ArchivedRecord> | Iterable<ArchivedRecord>,
  notes?: SheetNotes,
): AsyncGenerator<LogEntry, void, void> {
  for await (const record of records) {
    const entry = entryOf(record, notes);
    if (entry !== undefined) yield entry;
  }
}

/** The same of many at a time. */
export async function* entryPages(
  pages: AsyncIterable<readonly ArchivedRecord[]>,
  notes?: SheetNotes,
): AsyncGenerator<LogEntry[], void, void> {
  for await (const page of pages) {
    const entries: LogEntry[] = [];
    for (const record of page) {
      const entry = entryOf(record, notes);
      if (entry !== undefined) entries.push(entry);
    }
    yield entries;
  }
}

/** A record as people and scripts read it; undefined for a clock mark, which only says when others were made. */
export function entryOf(record: ArchivedRecord, notes?: SheetNotes): LogEntry | undefined {
  const message = readRecord(record);
  if (record.type === 'clock')
    return isUsableTime(toldBy(record)) ? undefined : unusableMark(loggedOf(record), record);
  if (message === undefined || message.type === 'clock')
    return {
      ...loggedOf(record),
      kind: 'unreadable',
      details: { type: record.type, fields: record.fields },
    };
  const logged = loggedOf(record);
  if (message.type === 'exposure') return exposureEntry(logged, message);
  const beginsHere = message.type === 'sheet' || message.type === 'sheet-resumed';
  const event = eventEntry(logged, message);
  return beginsHere ? { ...event, ...notes?.of(record) } : event;
}

function loggedOf({ seq, boot, atMs, nightByHand, board, log, uptimeMs }: ArchivedRecord): Logged {
  return {
    seq,
    boot,
    at: atMs === null ? null : new Date(atMs).toISOString(),
    board,
    night: atMs === null ? (nightByHand ?? null) : nightOf(atMs),
    uptimeMs,
    log,
  };
}

/** Of the fields of a clock mark, boot, seq and uptime come before its time. */
function toldBy({ fields }: ArchivedRecord): unknown {
  return fields[3];
}

function unusableMark(logged: Logged, record: ArchivedRecord): UnusableClockEntry {
  const told = toldBy(record);
  return { ...logged, kind: 'unusable-clock', details: { epochMs: typeof told === 'number' ? told : null } };
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
