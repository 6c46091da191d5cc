/** Texts as the core keeps them: a length byte, then UTF-8, at a place with room for the field's longest. */

/**
 * The place of a text of the core's own, put there when the core is compiled (firmware/build/packed-text.mjs).
 * @param letters a string literal of printable ASCII, at most 255 letters; anything else does not compile
 */
export declare function ascii(letters: string): usize;

export function copyText(into: usize, from: usize): void {
  memory.copy(into, from, 1 + usize(load<u8>(from)));
}

export function sameText(one: usize, other: usize): bool {
  const length = load<u8>(one);
  return length == load<u8>(other) && memory.compare(one + 1, other + 1, usize(length)) == 0;
}

export function isEmptyText(text: usize): bool {
  return load<u8>(text) == 0;
}
