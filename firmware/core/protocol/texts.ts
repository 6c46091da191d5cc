/** Texts as the core keeps them: a length byte, then UTF-8, at a place with room for the field's longest. */

/** Writes a word of the core's own (ASCII) as a text. */
export function setText(into: usize, ascii: string): void {
  store<u8>(into, u8(ascii.length));
  for (let at = 0; at < ascii.length; at++) store<u8>(into + 1 + at, u8(ascii.charCodeAt(at)));
}

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
