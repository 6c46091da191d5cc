/** Reads any line with the generated readers and writes it again: the codec's two halves, back to back. */
import { LINE_BYTES, MESSAGE_TYPE_COUNT, MESSAGE_TYPE_WORDS } from '../../firmware/core/generated/constants';
import { rewrite } from '../../firmware/core/generated/rewrite';
import * as reader from '../../firmware/core/protocol/line-reader';
import * as writer from '../../firmware/core/protocol/line-writer';

export const lineIn: usize = memory.data(LINE_BYTES);
export function lineOutAt(): usize {
  return writer.lineOut;
}

/** `length` bytes at `lineIn`, bracket and checksum taken off; the written line's length, or minus one more than the bad field (0 is the line as a whole). */
export function echo(length: i32): i32 {
  reader.startReading(lineIn, length);
  const type = reader.readType(MESSAGE_TYPE_WORDS, MESSAGE_TYPE_COUNT);
  const id = reader.readId();
  if (type < 0 || id < 0) return -100;
  return rewrite(type, id) ? writer.lineOutLength : -1 - reader.badField;
}
