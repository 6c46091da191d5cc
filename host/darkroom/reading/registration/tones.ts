/** A picture as tones: the larger the darker on the print, in rows from the top left. */
export interface Tones {
  readonly width: number;
  readonly height: number;
  readonly tones: Float32Array;
}

/** Each pixel the mean of those that it stands for. @param width and height no larger than the picture's. */
export function made({ width, height, tones }: Tones, toWidth: number, toHeight: number): Tones {
  const across = narrowed(tones, width, height, toWidth);
  const down = narrowed(transposed(across, toWidth, height), height, toWidth, toHeight);
  return { width: toWidth, height: toHeight, tones: transposed(down, toHeight, toWidth) };
}

/** At most so long, and never larger than it is. */
export function madeSmall(picture: Tones, longestSide: number): Tones {
  const share = Math.min(1, longestSide / Math.max(picture.width, picture.height));
  const side = (pixels: number) => Math.max(1, Math.round(pixels * share));
  return share === 1 ? picture : made(picture, side(picture.width), side(picture.height));
}

function narrowed(tones: Float32Array, width: number, height: number, toWidth: number): Float32Array {
  const out = new Float32Array(toWidth * height);
  const sums = new Float64Array(width + 1);
  const upTo = (x: number) => {
    const whole = Math.min(width - 1, Math.floor(x));
    return sums[whole]! + (sums[whole + 1]! - sums[whole]!) * (x - whole);
  };
  for (let row = 0; row < height; row++) {
    for (let x = 0; x < width; x++) sums[x + 1] = sums[x]! + tones[row * width + x]!;
    for (let x = 0; x < toWidth; x++) {
      const [from, to] = [(x * width) / toWidth, ((x + 1) * width) / toWidth];
      out[row * toWidth + x] = (upTo(to) - upTo(from)) / (to - from);
    }
  }
  return out;
}

function transposed(values: Float32Array, width: number, height: number): Float32Array {
  const out = new Float32Array(values.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) out[x * height + y] = values[y * width + x]!;
  return out;
}

/** Mirrored left to right, if so, and then turned clockwise by quarters. */
export function inQuarters({ width, height, tones }: Tones, mirrored: boolean, quarterTurns: number): Tones {
  const [columns, rows] = quarterTurns % 2 === 1 ? [height, width] : [width, height];
  const out = new Float32Array(tones.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [u, v] = quartered(mirrored ? width - 1 - x : x, y, width - 1, height - 1, quarterTurns);
      out[v * columns + u] = tones[y * width + x]!;
    }
  return { width: columns, height: rows, tones: out };
}

function quartered(
  x: number,
  y: number,
  lastX: number,
  lastY: number,
  turns: number,
): readonly [number, number] {
  if (turns === 0) return [x, y];
  if (turns === 1) return [lastY - y, x];
  return turns === 2 ? [lastX - x, lastY - y] : [y, lastX - x];
}

/** The tone between four pixels; x and y count from the middle of the first pixel. NaN outside. */
export function toneAt({ width, height, tones }: Tones, x: number, y: number): number {
  if (!(x >= 0 && y >= 0 && x <= width - 1 && y <= height - 1)) return Number.NaN;
  const left = Math.min(width - 2, Math.floor(x));
  const top = Math.min(height - 2, Math.floor(y));
  const shareX = x - left;
  const shareY = y - top;
  const at = top * width + left;
  const upper = tones[at]! + (tones[at + 1]! - tones[at]!) * shareX;
  const lower = tones[at + width]! + (tones[at + width + 1]! - tones[at + width]!) * shareX;
  return upper + (lower - upper) * shareY;
}
