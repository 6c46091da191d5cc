import {
  fieldsOf,
  type Message,
  type MessageType,
  messages,
  messageTypes,
  type RecordMessage,
} from '../../../shared-protocol/index.js';

/** One record of a board's log, kept so that another version can read it too. */
export interface LogRecord {
  readonly boot: number;
  readonly seq: number;
  readonly uptimeMs: number;
  readonly type: string;
  /** Every field in the order of the wire: boot, seq, uptimeMs, and what the type adds. */
  readonly fields: readonly unknown[];
}

export function recordOf(message: Message): LogRecord | undefined {
  const names = namesByType.get(message.type);
  if (names === undefined) return undefined;
  const values = message as unknown as Record<string, unknown>;
  const { boot, seq, uptimeMs, type } = message as RecordMessage;
  return { boot, seq, uptimeMs, type, fields: names.map((name) => values[name]) };
}

/**
 * A line of another version that looks like a record: every version's records begin with boot, seq and uptime.
 * The line's checksum must have been found right.
 */
export function recordOfForeignLine(line: string): LogRecord | undefined {
  const [type, , ...rest] = JSON.parse(line) as unknown[];
  const fields = rest.slice(0, -1);
  const [boot, seq, uptimeMs] = fields;
  if (typeof type !== 'string' || ![boot, seq, uptimeMs].every(isCount)) return undefined;
  return { boot, seq, uptimeMs, type, fields } as LogRecord;
}

/** Of each type of record: to work them out for each record would take longer than the rest of it. */
const namesByType: ReadonlyMap<MessageType, readonly string[]> = new Map(
  messageTypes
    .filter((type) => messages[type].role === 'record')
    .map((type) => [type, fieldsOf(type).map(({ name }) => name)]),
);

function isCount(value: unknown): value is number {
  return Number.isSafeInteger(value) && (value as number) >= 0;
}
