import type { GreyPicture } from './grey.js';

/** A strip of white between the two, in parts of the first one's width. */
const GAP_SHARE = 0.03;
const WHITE = 246;

/** Two pictures of one height beside each other. @throws RangeError for pictures of two heights */
export function sideBySide(left: GreyPicture, right: GreyPicture): GreyPicture {
  if (left.height !== right.height) throw new RangeError('pictures side by side have one height');
  const gap = Math.max(1, Math.round(left.width * GAP_SHARE));
  const { height } = left;
  const width = left.width + gap + right.width;
  const pixels = new Uint8Array(width * height).fill(WHITE);
  for (let row = 0; row < height; row++) {
    pixels.set(rowOf(left, row), row * width);
    pixels.set(rowOf(right, row), row * width + left.width + gap);
  }
  return { width, height, pixels };
}

function rowOf({ width, pixels }: GreyPicture, row: number): Uint8Array {
  return pixels.subarray(row * width, (row + 1) * width);
}
