import type { Framing } from '../../recipe/framing.js';
import { densestCode, type Negative } from './negative.js';

type Pixels = Pick<Negative, 'width' | 'height' | 'samples'>;

/** The negative as it lies between the easel's blades; where no film is, no light comes through. */
export function framed(negative: Negative, framing: Framing | undefined): Negative {
  if (framing === undefined) return negative;
  const quartered = inQuarters(negative, framing);
  const window = windowOf(framing, quartered);
  if (framing.turnDegrees === 0) return { ...negative, ...cut(quartered, window) };
  return {
    ...negative,
    ...turnedBy(framing.turnDegrees, quartered, window, densestCode(negative.logTransmittance)),
  };
}

type WhereFrom = (column: number, row: number, lastX: number, lastY: number) => readonly [number, number];

/** Undoes so many quarter turns. */
const whereFrom: readonly WhereFrom[] = [
  (column, row) => [column, row],
  (column, row, _, lastY) => [row, lastY - column],
  (column, row, lastX, lastY) => [lastX - column, lastY - row],
  (column, row, lastX) => [lastX - row, column],
];

/** Mirrored left to right, then turned clockwise. */
function inQuarters({ width, height, samples }: Pixels, { mirrored, quarterTurns }: Framing): Pixels {
  if (!mirrored && quarterTurns === 0) return { width, height, samples };
  const [columns, rows] = quarterTurns % 2 === 1 ? [height, width] : [width, height];
  const turned = new Uint16Array(samples.length);
  const from = whereFrom[quarterTurns]!;
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const [x, y] = from(column, row, width - 1, height - 1);
      turned[row * columns + column] = samples[y * width + (mirrored ? width - 1 - x : x)]!;
    }
  return { width: columns, height: rows, samples: turned };
}

/** What the blades leave, in whole pixels. */
interface Window {
  readonly left: number;
  readonly top: number;
  readonly columns: number;
  readonly rows: number;
}

/** Clockwise about the middle of the whole, each pixel between its four neighbours. */
function turnedBy(
  degrees: number,
  pixels: Pixels,
  { left, top, columns, rows }: Window,
  beyond: number,
): Pixels & { readonly beyondFilm: number } {
  const { width, height } = pixels;
  const [across, along] = [Math.sin((degrees * Math.PI) / 180), Math.cos((degrees * Math.PI) / 180)];
  const [middleX, middleY] = [(width - 1) / 2, (height - 1) / 2];
  const samples = new Uint16Array(columns * rows);
  let beyondFilm = 0;
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const [x, y] = [left + column - middleX, top + row - middleY];
      const sample = sampleAt(pixels, middleX + x * along + y * across, middleY - x * across + y * along);
      beyondFilm += Number(sample === undefined);
      samples[row * columns + column] = sample ?? beyond;
    }
  return { width: columns, height: rows, samples, beyondFilm };
}

/** Undefined where no film is. */
function sampleAt({ width, height, samples }: Pixels, x: number, y: number): number | undefined {
  if (x < 0 || y < 0 || x > width - 1 || y > height - 1) return undefined;
  const [left, top] = [Math.floor(x), Math.floor(y)];
  const [right, bottom] = [Math.min(width - 1, left + 1), Math.min(height - 1, top + 1)];
  const [shareX, shareY] = [x - left, y - top];
  const upper = samples[top * width + left]! * (1 - shareX) + samples[top * width + right]! * shareX;
  const lower = samples[bottom * width + left]! * (1 - shareX) + samples[bottom * width + right]! * shareX;
  return Math.round(upper * (1 - shareY) + lower * shareY);
}

function windowOf(framing: Framing, { width, height }: Pixels): Window {
  const [left, columns] = span(width, framing.leftPercent, framing.rightPercent);
  const [top, rows] = span(height, framing.topPercent, framing.bottomPercent);
  return { left, top, columns, rows };
}

function cut({ width, height, samples }: Pixels, { left, top, columns, rows }: Window): Pixels {
  if (columns === width && rows === height) return { width, height, samples };
  const kept = new Uint16Array(columns * rows);
  for (let row = 0; row < rows; row++) {
    const start = (top + row) * width + left;
    kept.set(samples.subarray(start, start + columns), row * columns);
  }
  return { width: columns, height: rows, samples: kept };
}

/** The first pixel that is kept and how many there are: at least one. */
function span(pixels: number, beforePercent: number, afterPercent: number): [number, number] {
  const first = Math.min(pixels - 1, Math.round((pixels * beforePercent) / 100));
  const end = Math.round((pixels * (100 - afterPercent)) / 100);
  return [first, Math.max(1, end - first)];
}
