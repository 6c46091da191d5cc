/** Characters as numbers: hexadecimal digits, UTF-8, and which of them no text may hold. */

/** The value of a lower-case hexadecimal digit, -1 for anything else. */
export function hexValue(byte: i32): i32 {
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30;
  if (byte >= 0x61 && byte <= 0x66) return byte - 0x57;
  return -1;
}

export function hexDigit(value: i32): u8 {
  return u8(value < 10 ? 0x30 + value : 0x57 + value);
}

/** C0, DEL and C1. */
export function isControl(point: i32): bool {
  return point < 0x20 || (point >= 0x7f && point <= 0x9f);
}

export function utf8Length(point: i32): i32 {
  return point < 0x80 // U+0080 itself is a control character
    ? 1
    : point < 0x800
      ? 2
      : point < 0x10000
        ? 3
        : 4;
}

export function writeUtf8(to: usize, point: i32): void {
  const length = utf8Length(point);
  if (length == 1) {
    store<u8>(to, u8(point));
    return;
  }
  for (let place = length - 1; place > 0; place--) {
    store<u8>(to + place, u8(0x80 | (point & 0x3f)));
    point >>= 6;
  }
  store<u8>(to, u8((0xf00 >> length) | point));
}

/** The code point at `from`, which must be well-formed, as every text that was read in is. */
export function readUtf8(from: usize): i32 {
  const lead = i32(load<u8>(from));
  if (lead < 0x80) return lead;
  const length = lead < 0xe0 ? 2 : lead < 0xf0 ? 3 : 4;
  let point = lead & (0x7f >> length);
  for (let place = 1; place < length; place++) point = (point << 6) | (load<u8>(from + place) & 0x3f);
  return point;
}
