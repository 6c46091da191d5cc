/** CRC-32/ISO-HDLC, reflected. */
const POLYNOMIAL = 0xedb8_8320;

/** What each byte makes of a checksum: `crcOfByte[(crc ^ byte) & 0xff] ^ (crc >>> 8)`. */
export const crcOfByte = new Int32Array(256).map((_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? POLYNOMIAL ^ (crc >>> 1) : crc >>> 1;
  return crc;
});

/** The checksum of a text of ASCII characters as 8 hexadecimal digits, as the line and its uploads carry it. */
export function crc32Hex(ascii: string): string {
  let crc = -1;
  for (let at = 0; at < ascii.length; at++)
    crc = crcOfByte[(crc ^ ascii.charCodeAt(at)) & 0xff]! ^ (crc >>> 8);
  return ((crc ^ -1) >>> 0).toString(16).padStart(8, '0');
}
