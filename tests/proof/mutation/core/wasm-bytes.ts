/** As much of the binary format as it takes to put other instructions into a module. */

export function readUnsigned(bytes: Uint8Array, at: number): { value: number; next: number } {
  let value = 0;
  for (let shift = 0, next = at; ; shift += 7) {
    const byte = bytes[next++]!;
    value += (byte & 0x7f) * 2 ** shift;
    if (byte < 0x80) return { value, next };
  }
}

export function unsigned(value: number): number[] {
  return value < 0x80 ? [value] : [(value & 0x7f) | 0x80, ...unsigned(Math.floor(value / 0x80))];
}

export function signed(value: bigint): number[] {
  const low = Number(value & 0x7fn);
  const rest = value >> 7n;
  const ends = (rest === 0n && low < 0x40) || (rest === -1n && low >= 0x40);
  return ends ? [low] : [low | 0x80, ...signed(rest)];
}

interface Section {
  readonly kind: number;
  readonly content: Uint8Array;
}

export function sectionsOf(bytes: Uint8Array): Section[] {
  const sections: Section[] = [];
  for (let at = 8; at < bytes.length; ) {
    const size = readUnsigned(bytes, at + 1);
    const end = size.next + size.value;
    sections.push({ kind: bytes[at]!, content: bytes.subarray(size.next, end) });
    at = end;
  }
  return sections;
}

export function moduleOf(sections: readonly Section[]): Uint8Array<ArrayBuffer> {
  const head = [0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0];
  return Buffer.concat([
    Uint8Array.from(head),
    ...sections.flatMap(({ kind, content }) => [
      Uint8Array.from([kind, ...unsigned(content.length)]),
      content,
    ]),
  ]) as Uint8Array<ArrayBuffer>;
}
