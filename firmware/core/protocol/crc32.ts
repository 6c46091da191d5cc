/**
 * CRC-32/ISO-HDLC, the checksum of zlib and of HDLC's 32-bit frame check: reflected polynomial 0xEDB88320,
 * start and final inversion; the check value of "123456789" is 0xCBF43926.
 */
// One entry a nibble: 64 bytes of table instead of 1 KiB, since the page is small and lines are short.
const NIBBLES: usize = memory.data<u32>([
  0x00000000, 0x1db71064, 0x3b6e20c8, 0x26d930ac, 0x76dc4190, 0x6b6b51f4, 0x4db26158, 0x5005713c, 0xedb88320,
  0xf00f9344, 0xd6d6a3e8, 0xcb61b38c, 0x9b64c2b0, 0x86d3d2d4, 0xa00ae278, 0xbdbdf21c,
]);

/** The checksum of nothing, to be handed to `crc32` for the first block. */
export const CRC32_EMPTY: u32 = 0;

/** Continues a finished checksum over `length` more bytes at `from`. */
export function crc32(soFar: u32, from: usize, length: i32): u32 {
  let register = ~soFar;
  for (let at = 0; at < length; at++) register = crc32Step(register, load<u8>(from + at));
  return ~register;
}

/** One byte into the running, not yet inverted register. */
export function crc32Step(register: u32, byte: u32): u32 {
  register ^= byte;
  register = (register >>> 4) ^ load<u32>(NIBBLES + ((register & 15) << 2));
  return (register >>> 4) ^ load<u32>(NIBBLES + ((register & 15) << 2));
}
