/**
 * The mark at a sector's start says that its erase was finished and what place it takes in its store's order.
 * It goes in before anything else does, so a sector whose erase the power cut into is never written to: it
 * may read as blank and still not hold what is programmed.
 */
import { flashProgram, flashRead } from '../board';
import { crc32 } from '../protocol/crc32';
import { FORMAT_MARK, noteFormat } from './format-mark';

/** Bytes at a sector's start that belong to the mark. */
export const MARK_BYTES: i32 = 16;
const WRITTEN_BYTES: i32 = 14;
const SUMMED_BYTES: i32 = 8;
const FORMAT_AT: usize = 12;

const mark: usize = memory.data(WRITTEN_BYTES, 4);
/** Room for reading through a sector piece by piece. */
export const CHUNK_BYTES: i32 = 64;
export const chunk: usize = memory.data(CHUNK_BYTES, 8);

/** Starts to program the mark of the erased sector at `offset`; `sequence` is at least 1. */
export function programMark(offset: u32, magic: u32, sequence: u32): void {
  store<u32>(mark, magic);
  store<u32>(mark, sequence, 4);
  store<u32>(mark, crc32(magic, mark, SUMMED_BYTES), 8);
  store<u16>(mark, FORMAT_MARK, FORMAT_AT);
  flashProgram(offset, mark, WRITTEN_BYTES);
}

/** The sequence in the mark of the sector at `offset`, or 0 when it bears none of this store's. */
export function markedSequence(offset: u32, magic: u32): u32 {
  flashRead(offset, mark, WRITTEN_BYTES);
  const valid = load<u32>(mark) == magic && load<u32>(mark, 8) == crc32(magic, mark, SUMMED_BYTES);
  if (!valid) return 0;
  noteFormat(load<u16>(mark, FORMAT_AT));
  return load<u32>(mark, 4);
}

/** Where the last byte that is not erased ends, counted from `offset`, in `length` bytes. */
export function writtenEnd(offset: u32, length: i32): i32 {
  let end = length;
  while (end > 0) {
    const size = min(end, CHUNK_BYTES);
    flashRead(offset + end - size, chunk, size);
    for (let at = size; at > 0; at--) {
      if (load<u8>(chunk + at - 1) != 0xff) return end - size + at;
    }
    end -= size;
  }
  return 0;
}
