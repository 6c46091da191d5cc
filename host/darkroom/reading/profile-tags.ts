/**
 * What stands in a colour profile, found by its tags: header and tag table as in ICC.1:2010, 7.2 and 7.3, from memory;
 * checked against another library's figures in the tests.
 */

const HEADER_BYTES = 128;
const TAG_BYTES = 12;
const MOST_TAGS = 200;

/**
 * @returns undefined for what is no profile, or one of another colour space.
 * @throws RangeError where it ends too soon
 */
export function asProfile(bytes: Uint8Array, space: 'GRAY' | 'RGB '): DataView | undefined {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return signatureAt(view, 36) === 'acsp' && signatureAt(view, 16) === space ? view : undefined;
}

/** Whether light can be made of colours by it: by curves and primaries, or by a table. */
export function isColourProfile(bytes: Uint8Array): boolean {
  try {
    const view = asProfile(bytes, 'RGB ');
    const has = (name: string) => tagOffset(view!, name) !== undefined;
    return view !== undefined && (has('A2B0') || ['rTRC', 'gTRC', 'bTRC', 'rXYZ', 'gXYZ', 'bXYZ'].every(has));
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

export function signatureAt(view: DataView, at: number): string {
  return String.fromCharCode(...[0, 1, 2, 3].map((byte) => view.getUint8(at + byte)));
}

export function tagOffset(view: DataView, name: string): number | undefined {
  const count = Math.min(MOST_TAGS, view.getUint32(HEADER_BYTES));
  for (let tag = 0; tag < count; tag++) {
    const at = HEADER_BYTES + 4 + tag * TAG_BYTES;
    if (signatureAt(view, at) === name) return view.getUint32(at + 4);
  }
  return undefined;
}
