import { type ImageMark, readImageMark } from '../../../shared-protocol/image-mark.js';
import { chip } from './chip.js';
import { ImageError } from './flash-errors.js';

/** An image that was looked over whole, with what it says of itself. */
export interface FirmwareImage extends ImageMark {
  /** The file, as it goes to the drive. */
  readonly file: Uint8Array;
}

/** More than any image that leaves the storage alone. */
export const mostImageBytes = (2 * chip.storageAt) as number;
/** One block of the file, and what of it goes into the flash (github.com/microsoft/uf2, README, "File format"). */
export const blockBytes = 512;
const PAYLOAD_AT = 32;
const PAYLOAD_BYTES = 256;
const MAGIC_FIRST = 0x0a32_4655;
const MAGIC_SECOND = 0x9e5d_5157;
const MAGIC_LAST = 0x0ab1_6f30;
/** The family's number is there; others would say that a block is no part of the flash. */
const FLAGS = 0x2000;

/**
 * Reads an image's file and checks all that can be checked before a byte of it is written.
 * @throws ImageError that says what is wrong, and in which block
 */
export function readFirmwareImage(file: Uint8Array): FirmwareImage {
  const total = countBlocks(file);
  const image = new Uint8Array(total * PAYLOAD_BYTES);
  for (let number = 0; number < total; number++) {
    const block = file.subarray(number * blockBytes, (number + 1) * blockBytes);
    const fault = faultOf(block, number, total);
    if (fault !== undefined) throw new ImageError(`block ${number + 1} of ${total} ${fault}`);
    image.set(block.subarray(PAYLOAD_AT, PAYLOAD_AT + PAYLOAD_BYTES), number * PAYLOAD_BYTES);
  }
  return { ...markOf(image), file };
}

function countBlocks(file: Uint8Array): number {
  if (file.length === 0) throw new ImageError('it is empty');
  const first = viewOf(file);
  if (file.length < blockBytes || first.getUint32(0, true) !== MAGIC_FIRST)
    throw new ImageError("it is no UF2 file, which is what a board's drive takes");
  const told = first.getUint32(24, true);
  const whole = file.length / blockBytes;
  if (whole === told) return whole;
  const what = whole < told ? 'it was cut short' : 'something hangs on behind its end';
  throw new ImageError(
    `${what}: ${file.length} bytes are there, and it says ${told} blocks of ${blockBytes}`,
  );
}

/** In words, for 'block 3 of 400 ...'. */
function faultOf(block: Uint8Array, number: number, total: number): string | undefined {
  const view = viewOf(block);
  const word = (index: number) => view.getUint32(index * 4, true);
  if (
    word(0) !== MAGIC_FIRST ||
    word(1) !== MAGIC_SECOND ||
    view.getUint32(blockBytes - 4, true) !== MAGIC_LAST
  )
    return 'is damaged: it has not the marks of a UF2 block';
  if (word(7) !== chip.uf2Family || word(2) !== FLAGS)
    return `is for another chip: its family is ${hex(word(7))}, this board's ${hex(chip.uf2Family)}`;
  if (word(4) !== PAYLOAD_BYTES) return `carries ${word(4)} bytes; the boot program takes ${PAYLOAD_BYTES}`;
  if (word(5) !== number || word(6) !== total)
    return `says that it is ${word(5) + 1} of ${word(6)}: blocks are missing or out of order`;
  return addressFault(word(3), number);
}

/** An image begins where the flash does, on a sector's border (erratum RP2040-E14), and has no gaps. */
function addressFault(address: number, number: number): string | undefined {
  if (address + PAYLOAD_BYTES > chip.flashAt + chip.storageAt)
    return `would be written to ${hex(address)}, where the log and the recipes lie`;
  const wanted = chip.flashAt + number * PAYLOAD_BYTES;
  if (address !== wanted)
    return `goes to ${hex(address)} and not to ${hex(wanted)}: a gap, or no image of ours`;
  return undefined;
}

function markOf(image: Uint8Array): ImageMark {
  const mark = readImageMark(image);
  if (mark === undefined) throw new ImageError("it is no image of treadle's: it does not say so of itself");
  if (mark === 'damaged') throw new ImageError('it is damaged: its checksum does not fit what is in it');
  if (mark.chip !== chip.name)
    throw new ImageError(`it is for a board with another chip: ${mark.chip}, not ${chip.name}`);
  return mark;
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}

function hex(number: number): string {
  return `0x${number.toString(16).padStart(8, '0')}`;
}
