/** Texts as the core keeps them: a length byte, then UTF-8, at a place with room for the field's longest. */

/**
 * The place of a text of the core's own, put there when the core is compiled (firmware/build/packed-text.mjs).
 * @param letters a string literal of printable ASCII, at most 255 letters; anything else does not compile
 */
export declare function ascii(letters: string): usize;

export function copyText(into: usize, from: usize): void {
  memory.copy(into, from, 1 + usize(load<u8>(from)));
}

/** `text` has room for it. */
export function appendText(text: usize, from: usize): void {
  const length = load<u8>(text);
  memory.copy(text + 1 + length, from + 1, load<u8>(from));
  store<u8>(text, length + load<u8>(from));
}

/** `value` is 0 or more. */
export function appendNumber(text: usize, value: i64): void {
  let unit: i64 = 1;
  while (value / unit >= 10) unit *= 10;
  for (; unit > 0; unit /= 10) {
    const length = load<u8>(text) + 1;
    store<u8>(text + length, u8(0x30 + ((value / unit) % 10)));
    store<u8>(text, length);
  }
}

export function sameText(one: usize, other: usize): bool {
  const length = load<u8>(one);
  return length == load<u8>(other) && memory.compare(one + 1, other + 1, usize(length)) == 0;
}

export function isEmptyText(text: usize): bool {
  return load<u8>(text) == 0;
}
