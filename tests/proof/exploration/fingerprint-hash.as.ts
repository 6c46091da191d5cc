/** The hash that tells two states apart: 64-bit FNV-1a, a word at a time (offset basis and prime by its authors). */

// In two halves, since one literal of 64 bits is more than JavaScript tools can read.
const OFFSET_BASIS: u64 = ((<u64>0xcbf29ce4) << 32) | 0x84222325;
let hash: u64 = 0;

export function beginHash(): void {
  hash = OFFSET_BASIS;
}

export function add(word: i64): void {
  hash = (hash ^ u64(word)) * 0x100000001b3;
}

/** Exact as a JavaScript number. */
export function endHash(): f64 {
  return f64(hash >> 11);
}
