import type { Chip } from './chip.js';
import type { NorFlash } from './nor-flash.js';

/** RP2040 datasheet section 2.8.1: what the boot ROM does before the first instruction of ours. */
const BLOCK_BYTES = 256;
const CODE_BYTES = 252;
const LOAD_AT = 0x2004_1f00;
const STACK_AT = 0x2004_1f00;
const RAM = 0x2000_0000;
const POLYNOMIAL = 0x04c1_1db7;

/** From the reset to the first attempt, and between two of them (section 2.8.1.3.1). */
export const bootRomUs = { before: 1000, retry: 4000 } as const;

/** CRC-32, most significant bit first, from all ones, not inverted. */
export function bootChecksum(bytes: Uint8Array): number {
  let crc = 0xffff_ffff;
  for (const byte of bytes) {
    crc ^= byte << 24;
    for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000_0000 ? (crc << 1) ^ POLYNOMIAL : crc << 1;
  }
  return crc >>> 0;
}

/** Loads the boot block and jumps to it; false if there is none with a right checksum to be read. */
export function bootFrom(flash: NorFlash, chip: Chip): boolean {
  const block = flash.bootRead(BLOCK_BYTES);
  if (block === undefined) return false;
  const stored = new DataView(block.buffer).getUint32(CODE_BYTES, true);
  if (bootChecksum(block.subarray(0, CODE_BYTES)) !== stored) return false;
  chip.sram.set(block, LOAD_AT - RAM);
  chip.core.SP = STACK_AT;
  chip.core.LR = 0;
  chip.core.PC = LOAD_AT;
  return true;
}
