/**
 * Writes one line to be sent. The schema's generator has proved that the longest line of every message fits,
 * so nothing here can run over.
 */
import { LINE_BYTES } from '../generated/constants';
import { hexDigit, readUtf8, utf8Length } from './characters';
import { CRC32_EMPTY, crc32 } from './crc32';
import { ascii } from './texts';

/** The finished line, newline included. */
export const lineOut: usize = memory.data(LINE_BYTES);
export let lineOutLength: i32 = 0;
const text: usize = memory.data(LINE_BYTES);

/** A text in place of a line: its pieces, then `endText`. */
export function beginText(): void {
  lineOutLength = 0;
}

export function addText(letters: usize): void {
  putLetters(letters);
}

export function addNumber(value: i64): void {
  putDigits(value);
}

/** Where the text lies until the next one. */
export function endText(): usize {
  store<u8>(text, u8(lineOutLength));
  memory.copy(text + 1, lineOut, lineOutLength);
  return text;
}

export function beginLine(typeWords: usize, type: i32, id: i32): void {
  lineOutLength = 0;
  put(0x5b); // [
  putWord(typeWords, type);
  putInteger(id);
}

export function endLine(): void {
  const sum = crc32(CRC32_EMPTY, lineOut, lineOutLength);
  putHex(sum, 8);
  put(0x5d); // ]
  put(0x0a);
}

export function putInteger(value: i64): void {
  put(0x2c);
  putDigits(value);
}

function putDigits(value: i64): void {
  if (value < 0) put(0x2d);
  let rest: u64 = value < 0 ? u64(-value) : u64(value);
  let unit: u64 = 1;
  while (rest / unit >= 10) unit *= 10;
  for (; unit > 0; unit /= 10) {
    put(u8(0x30 + rest / unit));
    rest %= unit;
  }
}

export function putFlag(value: bool): void {
  put(0x2c);
  putLetters(value ? ascii('true') : ascii('false'));
}

export function putChoice(words: usize, place: i32): void {
  put(0x2c);
  putWord(words, place);
}

export function putHex(value: u64, digits: i32): void {
  put(0x2c);
  put(0x22);
  for (let shift = (digits - 1) * 4; shift >= 0; shift -= 4) put(hexDigit(i32((value >> shift) & 15)));
  put(0x22);
}

/** A text (a length byte, then UTF-8) with everything outside ASCII as JSON escapes. */
export function putText(text: usize): void {
  put(0x2c);
  put(0x22);
  const end = text + 1 + load<u8>(text);
  for (let at = text + 1; at < end; ) {
    const point = readUtf8(at);
    at += utf8Length(point);
    putCharacter(point);
  }
  put(0x22);
}

function putCharacter(point: i32): void {
  if (point < 0x80) {
    if (point == 0x22 || point == 0x5c) put(0x5c);
    put(u8(point));
  } else if (point < 0x10000) {
    putEscape(point);
  } else {
    putEscape(0xd7c0 + (point >> 10)); // 0xd800 - (0x10000 >> 10)
    putEscape(0xdc00 | (point & 0x3ff));
  }
}

function putEscape(unit: i32): void {
  put(0x5c);
  put(0x75);
  for (let shift = 12; shift >= 0; shift -= 4) put(hexDigit((unit >> shift) & 15));
}

/** The word at `place` of a packed list, in quotes. */
function putWord(words: usize, place: i32): void {
  let word = words;
  for (; place > 0; place--) word += 1 + load<u8>(word);
  put(0x22);
  putLetters(word);
  put(0x22);
}

/** A text that needs no escapes. */
function putLetters(text: usize): void {
  const length = i32(load<u8>(text));
  memory.copy(lineOut + lineOutLength, text + 1, length);
  lineOutLength += length;
}

function put(byte: u8): void {
  store<u8>(lineOut + lineOutLength++, byte);
}
