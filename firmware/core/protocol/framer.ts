/**
 * Cuts the bytes from the serial line into lines. A line too long is thrown away up to its newline; noise can
 * spoil the line it falls into and no other.
 */
import { LINE_BYTES } from '../generated/constants';
import { hexValue } from './characters';
import { CRC32_EMPTY, crc32 } from './crc32';

const NEWLINE: i32 = 0x0a;
const RETURN: u8 = 0x0d;
/** `,"xxxxxxxx"]`: the checksum and what closes the line. */
const TAIL_BYTES: i32 = 12;

export enum Framed {
  Unfinished,
  Line,
  /** Not of the form of a line, or longer than allowed. */
  BadLine,
  BadCrc,
}

export const lineIn: usize = memory.data(LINE_BYTES, 8);
let length: i32 = 0;
let tooLong: bool = false;

/** The checksum that the last good line carried: two different requests differ in it. */
export let lineInCrc: u32 = 0;
/** The elements of the last good line, without the opening bracket and the tail. */
export let lineInElements: i32 = 0;
export let longLines: u32 = 0;

export function takeByte(byte: i32): Framed {
  if (byte != NEWLINE) {
    if (length < LINE_BYTES - 1) store<u8>(lineIn + length++, u8(byte));
    else tooLong = true;
    return Framed.Unfinished;
  }
  const framed = tooLong ? Framed.BadLine : examine();
  if (tooLong) longLines++;
  length = 0;
  tooLong = false;
  return framed;
}

function examine(): Framed {
  if (length > 0 && load<u8>(lineIn + length - 1) == RETURN) length--;
  if (length == 0) return Framed.Unfinished; // an empty line says nothing; hosts send one to clear the line
  const body = length - TAIL_BYTES;
  if (body < 2 || load<u8>(lineIn) != 0x5b || !readTail(lineIn + body)) return Framed.BadLine;
  if (crc32(CRC32_EMPTY, lineIn, body) != lineInCrc) return Framed.BadCrc;
  lineInElements = body - 1;
  return Framed.Line;
}

function readTail(tail: usize): bool {
  if (load<u16>(tail) != 0x222c || load<u16>(tail + 10) != 0x5d22) return false; // ," and "]
  let sum: u32 = 0;
  for (let at = 2; at < 10; at++) {
    const digit = hexValue(load<u8>(tail + at));
    if (digit < 0) return false;
    sum = (sum << 4) | u32(digit);
  }
  lineInCrc = sum;
  return true;
}
