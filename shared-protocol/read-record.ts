import { recordReaders } from './generated/record-readers.js';
import type { MessageOf, TypeOfRole } from './schema.js';

/** The messages that stand in the log. */
export type RecordType = TypeOfRole<'record'>;
export type RecordMessage = MessageOf<RecordType>;

/** What a record says by name, of its fields in the order of the wire; undefined where this version cannot read them. */
export function readRecord({
  type,
  fields,
}: {
  readonly type: string;
  readonly fields: readonly unknown[];
}): RecordMessage | undefined {
  return recordReaders.get(type)?.(fields) as RecordMessage | undefined;
}
