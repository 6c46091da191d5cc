/** The hash that tells two states apart: of 64 bits, a word at a time and mixed at the end, as XXH64 does it (Collet). */

// In halves, since one literal of 64 bits is more than JavaScript tools can read.
const PRIME_1: u64 = ((<u64>0x9e3779b1) << 32) | 0x85ebca87;
const PRIME_2: u64 = ((<u64>0xc2b2ae3d) << 32) | 0x27d4eb4f;
const PRIME_3: u64 = ((<u64>0x165667b1) << 32) | 0x9e3779f9;
const PRIME_4: u64 = ((<u64>0x85ebca77) << 32) | 0xc2b2ae63;
const PRIME_5: u64 = ((<u64>0x27d4eb2f) << 32) | 0x165667c5;

let hash: u64 = 0;

export function beginHash(): void {
  hash = PRIME_5;
}

export function add(word: i64): void {
  hash ^= rotl<u64>(u64(word) * PRIME_2, 31) * PRIME_1;
  hash = rotl<u64>(hash, 27) * PRIME_1 + PRIME_4;
}

export function endHash(): u64 {
  hash = (hash ^ (hash >> 33)) * PRIME_2;
  hash = (hash ^ (hash >> 29)) * PRIME_3;
  return hash ^ (hash >> 32);
}
