import { LEAST_LIGHT } from '../reading/light.js';
import { type PaperWhite, paperWhite } from '../reading/paper-white.js';
import { SurveyRefused } from './evenness-refusal.js';
import { greyArea, type Light, type Rectangle } from './grey-area.js';

/** A scanned grey sheet as few densities in rows from the top left, by medians, so that dust says nothing. */
export interface GreySheet {
  readonly columns: number;
  readonly rows: number;
  /** Width of the grey by its height. */
  readonly aspect: number;
  /** Above paper white where it was seen, else above the scanner's full. */
  readonly density: Float64Array;
  /** What the paper's own white says of it: the scanner's light all over, its level alone, or nothing. */
  readonly white: 'surface' | 'level' | 'none';
}

export const COLUMNS = 24;
/** A sheet that lies a little turned has its edges within this share of its sides. */
const INSET_SHARE = 0.015;
const END_OF_SCALE = 0.9985;
const MOST_CLIPPED_SHARE = 0.02;
const MOST_STRETCHED_SHARE = 0.002;
/** Half of a cell's tones lie within this of one another: grain, noise and the paper's surface, but no picture. */
const MOST_SPREAD_DENSITY = 0.06;

/** @throws SurveyRefused */
export function greySheet(picture: Light): GreySheet {
  checkScale(picture);
  const area = greyArea(picture);
  const [width, height] = [area.right - area.left, area.bottom - area.top];
  const aspect = width / height;
  const rows = Math.min(2 * COLUMNS, Math.max(8, Math.round(COLUMNS / aspect)));
  const white = whiteAround(picture, area);
  const density = new Float64Array(COLUMNS * rows);
  const spreads: number[] = [];
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < COLUMNS; column++) {
      const tone = toneOf(picture, cellOf(area, column, row, rows));
      density[row * COLUMNS + column] = (white?.logAt(...tone.centre) ?? 0) - tone.log;
      spreads.push(tone.spread);
    }
  if (spreads.sort((one, other) => one - other)[spreads.length >> 1]! > MOST_SPREAD_DENSITY)
    throw new SurveyRefused('picture');
  return {
    columns: COLUMNS,
    rows,
    aspect,
    density,
    white: white === undefined ? 'none' : white.isSurface ? 'surface' : 'level',
  };
}

/** Where a column or row lies, -1 at one edge of the grey and 1 at the other. */
export function placeOf(at: number, count: number): number {
  return (1 - INSET_SHARE * 2) * ((2 * (at + 0.5)) / count - 1);
}

function cellOf(
  { left, right, top, bottom }: Rectangle,
  column: number,
  row: number,
  rows: number,
): Rectangle {
  const [insetX, insetY] = [INSET_SHARE * (right - left), INSET_SHARE * (bottom - top)];
  const [stepX, stepY] = [(right - left - 2 * insetX) / COLUMNS, (bottom - top - 2 * insetY) / rows];
  return {
    left: left + insetX + column * stepX,
    right: left + insetX + (column + 1) * stepX,
    top: top + insetY + row * stepY,
    bottom: top + insetY + (row + 1) * stepY,
  };
}

interface Tone {
  readonly centre: readonly [x: number, y: number];
  readonly log: number;
  readonly spread: number;
}

function toneOf({ width, light }: Light, { left, right, top, bottom }: Rectangle): Tone {
  const [x0, x1] = [Math.floor(left), Math.max(Math.floor(left) + 1, Math.floor(right))];
  const [y0, y1] = [Math.floor(top), Math.max(Math.floor(top) + 1, Math.floor(bottom))];
  const values = new Float32Array((x1 - x0) * (y1 - y0));
  for (let y = y0; y < y1; y++)
    values.set(light.subarray(y * width + x0, y * width + x1), (y - y0) * (x1 - x0));
  values.sort();
  const logOf = (share: number) =>
    Math.log10(
      Math.max(LEAST_LIGHT, values[Math.min(values.length - 1, Math.floor(share * values.length))]!),
    );
  // Of eight-bit tones the median stands still while the light moves: the mean of the middle half does not.
  return {
    centre: [(left + right) / 2, (top + bottom) / 2],
    log: Math.log10(Math.max(LEAST_LIGHT, middleMean(values))),
    spread: logOf(0.75) - logOf(0.25),
  };
}

function middleMean(sorted: Float32Array): number {
  const middle = sorted.subarray(
    sorted.length >> 2,
    Math.max((sorted.length >> 2) + 1, (3 * sorted.length) >> 2),
  );
  return middle.reduce((sum, value) => sum + value, 0) / middle.length;
}

function checkScale({ light }: Light): void {
  let [full, empty] = [0, 0];
  for (const each of light) {
    if (each >= END_OF_SCALE) full++;
    else if (each < LEAST_LIGHT) empty++;
  }
  const most = MOST_STRETCHED_SHARE * light.length;
  if (full > most && empty > most) throw new SurveyRefused('automatic-tone');
}

const RING_SHARE = 0.05;
const LEAST_ABOVE_GREY = 0.15;

/** The white that the easel's blades left around the grey, looked for close by, so that the scanner's lid is no paper. */
function whiteAround(picture: Light, area: Rectangle): PaperWhite | undefined {
  const ring = cropped(picture, area, RING_SHARE * (area.right - area.left));
  const rough = lightestOutside(ring);
  const middle = toneOf(picture, cellOf(area, COLUMNS / 2, 4, 8)).log;
  if (rough === undefined || Math.log10(rough) - middle < LEAST_ABOVE_GREY) {
    checkClipped(middle);
    return undefined;
  }
  const white = paperWhite(ring.picture, ring.inside, rough);
  if (white === undefined) return undefined;
  if (white.clippedShare > MOST_CLIPPED_SHARE) throw new SurveyRefused('clipped');
  return { ...white, logAt: (x, y) => white.logAt(x - ring.left, y - ring.top) };
}

function checkClipped(log: number): void {
  if (log >= Math.log10(END_OF_SCALE) || log <= Math.log10(2 * LEAST_LIGHT))
    throw new SurveyRefused('clipped');
}

interface Ring {
  readonly picture: Light;
  readonly inside: Rectangle;
  readonly left: number;
  readonly top: number;
}

function cropped({ width, height, light }: Light, area: Rectangle, ringPx: number): Ring {
  const left = Math.max(0, Math.floor(area.left - ringPx));
  const top = Math.max(0, Math.floor(area.top - ringPx));
  const right = Math.min(width, Math.ceil(area.right + ringPx));
  const bottom = Math.min(height, Math.ceil(area.bottom + ringPx));
  const crop = new Float32Array((right - left) * (bottom - top));
  for (let y = top; y < bottom; y++)
    crop.set(light.subarray(y * width + left, y * width + right), (y - top) * (right - left));
  const inside = {
    left: area.left - left,
    right: area.right - left,
    top: area.top - top,
    bottom: area.bottom - top,
  };
  return { picture: { width: right - left, height: bottom - top, light: crop }, inside, left, top };
}

/** The light that a fifth of the ring is above; undefined where there is hardly a ring. */
function lightestOutside({ picture: { width, height, light }, inside }: Ring): number | undefined {
  const outside: number[] = [];
  for (let y = 0; y < height; y += 2)
    for (let x = 0; x < width; x += 2)
      if (x < inside.left || x >= inside.right || y < inside.top || y >= inside.bottom)
        outside.push(light[y * width + x]!);
  if (outside.length < 50) return undefined;
  return outside.sort((one, other) => one - other)[Math.floor(outside.length * 0.8)]!;
}
