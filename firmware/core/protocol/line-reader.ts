/**
 * Reads the elements of one received line in order. The first thing that is wrong is remembered and every
 * later read answers zero, so that the generated readers need no checks of their own.
 */
import { hexValue, isControl, utf8Length, writeUtf8 } from './characters';

const QUOTE: u8 = 0x22;
const BACKSLASH: u8 = 0x5c;
const COMMA: u8 = 0x2c;
const MINUS: u8 = 0x2d;
const HYPHEN: u8 = 0x2d;

let at: usize = 0;
let end: usize = 0;
let wrong: bool = false;

/** The field (from 1) that could not be read, 0 when none; and what an integer there may be. */
export let badField: i32 = 0;
export let badFieldLow: i64 = 0;
export let badFieldHigh: i64 = 0;

/** Starts on a line's elements; `from` points at the byte after the opening bracket. */
export function startReading(from: usize, length: i32): void {
  at = from;
  end = from + length;
  wrong = false;
  badFieldLow = 0;
  badFieldHigh = 0;
}

/** The line's first element, which no comma precedes; -1 when it is none of the words. */
export function readType(words: usize, count: i32): i32 {
  return matchWord(words, count);
}

/** The line's second element, 0..65535; -1 when it is not a canonical number. */
export function readId(): i32 {
  if (!skipComma()) return -1;
  const id = digits(0xffff);
  return wrong ? -1 : i32(id);
}

export function readInteger(field: i32, min: i64, max: i64): i64 {
  if (wrong) return 0;
  let value: i64 = 0; // of a line without the comma it is not taken
  if (skipComma()) {
    const negative = at < end && load<u8>(at) == MINUS;
    if (negative) at++;
    value = digits(negative ? -min : max);
    if (negative) value = -value;
    if (value < min || value > max || (negative && value == 0)) wrong = true;
  }
  if (!wrong) return value;
  blame(field);
  badFieldLow = min;
  badFieldHigh = max;
  return 0;
}

export function readFlag(field: i32): bool {
  if (wrong) return false;
  if (skipComma()) {
    if (skipWord(0x65757274, 4)) return true; // "true", least significant byte first
    if (skipWord(0x736c6166, 4) && at < end && load<u8>(at) == 0x65) {
      at++;
      return false;
    }
  }
  blame(field);
  return false;
}

export function readChoice(field: i32, words: usize, count: i32): i32 {
  if (wrong) return 0;
  const found = skipComma() ? matchWord(words, count) : -1;
  if (found >= 0) return found;
  blame(field);
  return 0;
}

export function readHex(field: i32, length: i32): u64 {
  if (wrong) return 0;
  let value: u64 = 0;
  if (skipComma() && skipByte(QUOTE) && at + length < end) {
    for (let count = 0; count < length; count++) {
      const digit = hexValue(load<u8>(at++));
      if (digit < 0) wrong = true;
      value = (value << 4) | u64(digit & 15);
    }
    if (!wrong && skipByte(QUOTE)) return value;
  }
  blame(field);
  return 0;
}

/** A string into `into`: a length byte, then UTF-8. `slug` allows small letters, digits and single hyphens only. */
export function readText(field: i32, into: usize, maxChars: i32, maxWireBytes: i32, slug: bool): void {
  if (wrong) return;
  if (skipComma() && skipByte(QUOTE)) {
    const wireStart = at;
    const written = textBody(into + 1, maxChars, wireStart + maxWireBytes, slug);
    if (!wrong && i32(at - wireStart) <= maxWireBytes && skipByte(QUOTE)) {
      store<u8>(into, u8(written));
      return;
    }
  }
  blame(field);
}

/** True when every element was read and none is left over. */
export function linePassed(): bool {
  if (!wrong && at != end) blame(0);
  return !wrong;
}

function blame(field: i32): void {
  wrong = true;
  badField = field;
}

function skipByte(byte: u8): bool {
  if (at < end && load<u8>(at) == byte) {
    at++;
    return true;
  }
  wrong = true;
  return false;
}

function skipComma(): bool {
  return skipByte(COMMA);
}

function skipWord(fourLetters: u32, length: i32): bool {
  if (at + length > end || load<u32>(at) != fourLetters) return false;
  at += length;
  return true;
}

/** Digits without sign or leading zero, at most `max`. */
function digits(max: i64): i64 {
  const start = at;
  let value: i64 = 0;
  while (at < end) {
    const digit = i32(load<u8>(at)) - 0x30;
    if (digit < 0 || digit > 9) break;
    value = value * 10 + digit;
    if (value > max) wrong = true;
    if (wrong) return 0;
    at++;
  }
  if (at == start || (load<u8>(start) == 0x30 && at - start > 1)) wrong = true;
  return value;
}

/** A quoted word out of a packed list; its place, or -1. */
function matchWord(words: usize, count: i32): i32 {
  if (!skipByte(QUOTE)) return -1;
  let word = words;
  for (let place = 0; place < count; place++) {
    const length = i32(load<u8>(word));
    if (at + length < end && load<u8>(at + length) == QUOTE && memory.compare(at, word + 1, length) == 0) {
      at += length + 1;
      return place;
    }
    word += length + 1;
  }
  return -1;
}

/** Characters up to the closing quote, as UTF-8 at `to`; their bytes. Stops where the line allows no more. */
function textBody(to: usize, maxChars: i32, wireEnd: usize, slug: bool): i32 {
  const start = to;
  let count = 0;
  let before: i32 = HYPHEN;
  while (!wrong && at < end && load<u8>(at) != QUOTE) {
    const point = character();
    if (++count > maxChars || at > wireEnd || isControl(point)) wrong = true;
    if (slug && !isSlugCharacter(point, before)) wrong = true;
    if (wrong) return 0;
    before = point;
    writeUtf8(to, point);
    to += utf8Length(point);
  }
  if (slug && count > 0 && before == HYPHEN) wrong = true;
  return i32(to - start);
}

function isSlugCharacter(point: i32, before: i32): bool {
  if (point == HYPHEN) return before != HYPHEN;
  return (point >= 0x61 && point <= 0x7a) || (point >= 0x30 && point <= 0x39);
}

/** One character: plain ASCII, a short escape, or \uXXXX (two of them for what lies beyond the basic plane); 0, which no text may hold, for what is none. */
function character(): i32 {
  const byte = i32(load<u8>(at++));
  if (byte >= 0x80) return 0;
  if (byte != BACKSLASH) return byte;
  if (at >= end) return 0;
  const escape = i32(load<u8>(at++));
  if (escape == QUOTE || escape == BACKSLASH || escape == 0x2f) return escape;
  return escape == 0x75 ? escapedCharacter() : 0; // \b \f \n \r \t are control characters
}

function escapedCharacter(): i32 {
  const unit = utf16Unit();
  if ((unit & 0xf800) != 0xd800) return unit;
  const paired = unit < 0xdc00 && at + 6 <= end && load<u16>(at) == 0x755c; // "\u", least significant byte first
  if (!paired) return 0;
  at += 2;
  const low = utf16Unit();
  return (low & 0xfc00) == 0xdc00 ? 0x10000 + ((unit & 0x3ff) << 10) + (low & 0x3ff) : 0;
}

function utf16Unit(): i32 {
  if (at + 4 > end) return 0;
  let unit = 0;
  for (let count = 0; count < 4; count++) {
    const digit = hexValue(load<u8>(at++));
    if (digit < 0) {
      return 0; // a control character
    }
    unit = (unit << 4) | digit;
  }
  return unit;
}
