import { crcOfByte } from './crc32.js';

/**
 * What an image says of itself, in 64 bytes at a fixed place: it can be read from the file without running it. The build
 * writes it when all else is linked; no other program puts one there. Numbers are little-endian, texts end with zeros.
 */
export interface ImageMark {
  /** The chip's name, as its folder is called. */
  readonly chip: string;
  readonly version: string;
  readonly protocol: number;
  /** Eight hex digits. */
  readonly schemaHash: string;
}

/** Behind the boot block and its two vectors (256 + 8 bytes), see the chip's image.ld. */
export const imageMarkAt = 0x140;
export const imageMarkBytes = 64;

/** The last character counts the layouts. */
const MAGIC = 'treadle image 1\n';
const at = { magic: 0, length: 16, crc: 20, chip: 24, version: 32, schemaHash: 48, protocol: 56 } as const;
const room = { chip: 8, version: 16, schemaHash: 8 } as const;

/** Writes the mark into a linked image, which from then on may not change by a bit. */
export function markImage(image: Uint8Array, mark: ImageMark): void {
  const bytes = image.subarray(imageMarkAt, imageMarkAt + imageMarkBytes);
  const view = viewOf(bytes);
  bytes.fill(0);
  putText(bytes, at.magic, MAGIC, MAGIC.length);
  putText(bytes, at.chip, mark.chip, room.chip);
  putText(bytes, at.version, mark.version, room.version);
  putText(bytes, at.schemaHash, mark.schemaHash, room.schemaHash);
  view.setUint16(at.protocol, mark.protocol, true);
  view.setUint32(at.length, image.length, true);
  view.setUint32(at.crc, checksum(image), true);
}

/** What the mark says; undefined where there is none, `damaged` where what it was made of has changed since. */
export function readImageMark(image: Uint8Array): ImageMark | 'damaged' | undefined {
  const bytes = image.subarray(imageMarkAt, imageMarkAt + imageMarkBytes);
  if (bytes.length < imageMarkBytes || getText(bytes, at.magic, MAGIC.length) !== MAGIC) return undefined;
  const view = viewOf(bytes);
  const length = view.getUint32(at.length, true);
  if (length > image.length || checksum(image.subarray(0, length)) !== view.getUint32(at.crc, true))
    return 'damaged';
  return {
    chip: getText(bytes, at.chip, room.chip),
    version: getText(bytes, at.version, room.version),
    schemaHash: getText(bytes, at.schemaHash, room.schemaHash),
    protocol: view.getUint16(at.protocol, true),
  };
}

/** CRC-32 over the image, its own four bytes taken as zeros. */
function checksum(image: Uint8Array): number {
  const own = imageMarkAt + at.crc;
  let crc = -1;
  for (let place = 0; place < image.length; place++) {
    const byte = place >= own && place < own + 4 ? 0 : image[place]!;
    crc = crcOfByte[(crc ^ byte) & 0xff]! ^ (crc >>> 8);
  }
  return (crc ^ -1) >>> 0;
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function putText(bytes: Uint8Array, place: number, text: string, most: number): void {
  if (text.length > most) throw new RangeError(`the image's mark has room for ${most} characters: '${text}'`);
  for (let index = 0; index < text.length; index++) bytes[place + index] = text.charCodeAt(index);
}

function getText(bytes: Uint8Array, place: number, most: number): string {
  const text = String.fromCharCode(...bytes.subarray(place, place + most));
  const end = text.indexOf('\0');
  return end < 0 ? text : text.slice(0, end);
}
