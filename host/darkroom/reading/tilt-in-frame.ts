/** By how much a sheet lies crooked in the frame, and the frame turned back by that. */

import { LEAST_LIGHT, type Light } from './light.js';
import { toneAt } from './registration/tones.js';

/** A frame whose sheet lies straight, and where a place of it is in the frame that it was turned from. */
export interface Straightened {
  readonly frame: Light;
  /** Undefined where nothing was turned. */
  readonly inFrame: ((x: number, y: number) => readonly [x: number, y: number]) | undefined;
}

const DEGREE = Math.PI / 180;
/** A sheet that somebody laid on the glass by eye lies straighter than the most. */
const MOST_DEGREES = 4;
const STEP_DEGREES = 0.25;
/** Less than this the search for leaning edges takes by itself. */
const LEAST_DEGREES = 1.2;
/** The lines of a straight sheet are so much sharper than those of the frame as it is. */
const SHARPER = 1.1;
const CELLS = 300;

/** The frame as it is where no tilt, or too small a one, is seen. */
export function straightened(frame: Light): Straightened {
  const small = smaller(frame);
  const steps = Math.round(MOST_DEGREES / STEP_DEGREES);
  const tilts = Array.from({ length: 2 * steps + 1 }, (_, at) => (at - steps) * STEP_DEGREES);
  const scores = tilts.map((tilt) => sharpness(small, Math.tan(tilt * DEGREE)));
  const best = scores.indexOf(Math.max(...scores));
  const tilt = tilts[best]!;
  const isWorthIt = Math.abs(tilt) >= LEAST_DEGREES && scores[best]! > SHARPER * scores[steps]!;
  return isWorthIt ? turnedBack(frame, tilt * DEGREE) : { frame, inFrame: undefined };
}

/** Logarithms of the light in few cells. */
function smaller({ width, height, light }: Light): Light {
  const step = Math.max(1, Math.ceil(Math.max(width, height) / CELLS));
  const [columns, rows] = [Math.floor(width / step), Math.floor(height / step)];
  const cells = new Float32Array(columns * rows);
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      let sum = 0;
      for (let y = row * step; y < (row + 1) * step; y++)
        for (let x = column * step; x < (column + 1) * step; x++) sum += light[y * width + x]!;
      cells[row * columns + column] = Math.log10(Math.max(LEAST_LIGHT, sum / step ** 2));
    }
  return { width: columns, height: rows, light: cells };
}

/** Along the sheet's own sides light changes in few lines, and there by much: squares of the changes from line to line. */
function sharpness(cells: Light, slope: number): number {
  return changes(cells, 'rows', slope) + changes(cells, 'columns', slope);
}

function changes({ width, height, light }: Light, lines: 'rows' | 'columns', slope: number): number {
  const [count, length] = lines === 'rows' ? [height, width] : [width, height];
  const sums = new Float64Array(count);
  const cells = new Float64Array(count);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at =
        lines === 'rows' ? Math.round(y - slope * (x - width / 2)) : Math.round(x + slope * (y - height / 2));
      if (at < 0 || at >= count) continue;
      sums[at]! += light[y * width + x]!;
      cells[at]!++;
    }
  let sum = 0;
  for (let at = 1; at < count; at++) {
    if (Math.min(cells[at - 1]!, cells[at]!) < length / 2) continue;
    sum += (sums[at]! / cells[at]! - sums[at - 1]! / cells[at - 1]!) ** 2;
  }
  return sum * length;
}

/** Turned about its middle; what comes from outside is as the nearest place at the frame's edge. */
function turnedBack(frame: Light, tilt: number): Straightened {
  const { width, height, light } = frame;
  const [cos, sin] = [Math.cos(tilt), Math.sin(tilt)];
  const [middleX, middleY] = [(width - 1) / 2, (height - 1) / 2];
  const inFrame = (x: number, y: number): readonly [number, number] => [
    middleX + cos * (x - middleX) - sin * (y - middleY),
    middleY + sin * (x - middleX) + cos * (y - middleY),
  ];
  const asTones = { width, height, tones: light };
  const out = new Float32Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [fromX, fromY] = inFrame(x, y);
      out[y * width + x] = toneAt(
        asTones,
        Math.min(width - 1, Math.max(0, fromX)),
        Math.min(height - 1, Math.max(0, fromY)),
      );
    }
  return { frame: { width, height, light: out }, inFrame };
}
