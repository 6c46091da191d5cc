import { crc32 } from 'node:zlib';
import { storageFormat } from '../../shared-protocol/documents.js';
import { limits } from '../../shared-protocol/limits.js';

/** Of the region's layout (firmware/core/storage). */
const RING_SECTORS = 284;
const RING_MAGIC = 0x31676f4c;
const MARK_BYTES = 14;

/**
 * The mark that makes a new ring one that was last collected when its first sector was written, and has got round to so many
 * sectors before its end: those between are not looked into, and may be empty.
 */
export function markOfFullLog(sectorsLeft: number): { offset: number; mark: Uint8Array } {
  const sequence = RING_SECTORS - 1 - sectorsLeft;
  const mark = Buffer.alloc(MARK_BYTES);
  mark.writeUInt32LE(RING_MAGIC, 0);
  mark.writeUInt32LE(sequence, 4);
  mark.writeUInt32LE(crc32(mark.subarray(0, 8), RING_MAGIC), 8);
  mark.writeUInt8(storageFormat, MARK_BYTES - 2);
  mark.writeUInt8(0xff ^ storageFormat, MARK_BYTES - 1);
  return { offset: sequence * limits.sectorBytes, mark };
}
