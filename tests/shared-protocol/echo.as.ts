/** Reads any line with the generated readers and writes it again: the codec's two halves, back to back. */
import { LINE_BYTES } from '../../firmware/core/generated/constants';
import * as reader from '../../firmware/core/protocol/line-reader';
import * as writer from '../../firmware/core/protocol/line-writer';
import { readMessageType, readRecord, writeRecord } from '../../firmware/core/protocol/record-codec';

export const lineIn: usize = memory.data(LINE_BYTES);
/** Room for the largest record; the generator gives every offset a byte. */
const record: usize = memory.data(512, 8);

export function lineOutAt(): usize {
  return writer.lineOut;
}

/** `length` bytes at `lineIn`, bracket and checksum taken off; the written line's length, or minus one more than the bad field (0 is the line as a whole). */
export function echo(length: i32): i32 {
  reader.startReading(lineIn, length);
  const type = readMessageType();
  const id = reader.readId();
  if (type < 0 || id < 0) return -100;
  if (!readRecord(type, record)) return -1 - reader.badField;
  writeRecord(type, record, id);
  return writer.lineOutLength;
}
