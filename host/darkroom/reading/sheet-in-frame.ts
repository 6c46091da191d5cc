/** Where in the frame the paper lies, when it lies on something darker: a black lid, a table. */

/** Pixels of a picture, `right` and `bottom` not in it. */
export interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

interface Light {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array;
}

/** In log10 of the light: the paper's border and a first patch without tone differ by less. */
const NEARLY_WHITE = 0.12;
const CELLS = 300;
/** A row belongs to the border when this much of what the whitest row has is white in it. */
const WHITE_ROW = 0.7;
/** Of each of the sheet's sides; a strip whose patches run off the paper has no border at two of them. */
const WHITE_SIDE = 0.5;
const LEAST_TONE = 0.15;

/** The sheet within its white border; the whole frame where there is no more than the sheet in it, or no border is seen. */
export function sheetInFrame(picture: Light, white: number): Box {
  const whole = { left: 0, right: picture.width, top: 0, bottom: picture.height };
  const step = Math.max(1, Math.ceil(Math.max(picture.width, picture.height) / CELLS));
  const mask = whiteMask(picture, white, step);
  if (whiteSides(mask, frameOf(mask)) >= 3) return whole;
  const found = boxOf(mask);
  if (found === undefined || whiteSides(mask, found) < 3 || toneShare(mask, found) < LEAST_TONE) return whole;
  return {
    left: found.left * step,
    right: Math.min(picture.width, found.right * step),
    top: found.top * step,
    bottom: Math.min(picture.height, found.bottom * step),
  };
}

interface Mask {
  readonly columns: number;
  readonly rows: number;
  readonly isWhite: Uint8Array;
}

function frameOf({ columns, rows }: Mask): Box {
  return { left: 0, right: columns, top: 0, bottom: rows };
}

function whiteMask({ width, height, light }: Light, white: number, step: number): Mask {
  const [columns, rows] = [Math.floor(width / step), Math.floor(height / step)];
  const isWhite = new Uint8Array(columns * rows);
  const [least, most] = [white * 10 ** -NEARLY_WHITE, white * 10 ** NEARLY_WHITE];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const at = light[(row * step + (step >> 1)) * width + column * step + (step >> 1)]!;
      isWhite[row * columns + column] = at >= least && at <= most ? 1 : 0;
    }
  return { columns, rows, isWhite };
}

function boxOf({ columns, rows, isWhite }: Mask): Box | undefined {
  const byRow = new Array<number>(rows).fill(0);
  const byColumn = new Array<number>(columns).fill(0);
  isWhite.forEach((white, at) => {
    byRow[Math.floor(at / columns)]! += white;
    byColumn[at % columns]! += white;
  });
  const [vertical, horizontal] = [spanOf(byRow), spanOf(byColumn)];
  if (vertical.to - vertical.from < 5 || horizontal.to - horizontal.from < 5) return undefined;
  return { top: vertical.from, bottom: vertical.to, left: horizontal.from, right: horizontal.to };
}

function spanOf(counts: readonly number[]): { from: number; to: number } {
  const least = Math.max(1, WHITE_ROW * Math.max(...counts));
  return {
    from: counts.findIndex((count) => count >= least),
    to: counts.findLastIndex((count) => count >= least) + 1,
  };
}

/** How many of a box's sides are white along most of their length. */
function whiteSides({ columns, isWhite }: Mask, { left, right, top, bottom }: Box): number {
  const inRow = (row: number) => shareOf(right - left, (at) => isWhite[row * columns + left + at]!);
  const inColumn = (column: number) => shareOf(bottom - top, (at) => isWhite[(top + at) * columns + column]!);
  const sides = [inRow(top), inRow(bottom - 1), inColumn(left), inColumn(right - 1)];
  return sides.filter((share) => share >= WHITE_SIDE).length;
}

function shareOf(count: number, of: (at: number) => number): number {
  let sum = 0;
  for (let at = 0; at < count; at++) sum += of(at);
  return sum / count;
}

function toneShare({ columns, isWhite }: Mask, { left, right, top, bottom }: Box): number {
  return shareOf(bottom - top, (row) =>
    shareOf(right - left, (column) => 1 - isWhite[(top + row) * columns + left + column]!),
  );
}
