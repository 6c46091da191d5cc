import { type ComplexField, emptyField, transform } from './fourier.js';
import type { Placement } from './placement.js';
import { type Slopes, slopesOf } from './slopes.js';
import { inQuarters, made, type Tones } from './tones.js';

export interface Candidate {
  readonly placement: Placement;
  /** Share of the strip's slopes that go the way of the negative's, from -1 to 1. */
  readonly likeness: number;
}

/** The likeliest placements by the whole picture, and by what its rows and columns have not alike. */
export interface Candidates {
  readonly whole: readonly Candidate[];
  readonly withoutCommon: readonly Candidate[];
}

/** The strip's longer side here, in pixels: enough to tell places apart, and quick. */
const STRIP_PIXELS = 42;
/** The frame's longer side, so that with what is beyond it a power of two is not passed. */
const MOST_FRAME_PIXELS = 116;
/** The strip's longer side to the frame's: from a narrow strip to one wider than the frame that shows its border. */
const SMALLEST_SCALE = 0.3;
const LARGEST_SCALE = 1.7;
/** From scale to scale, slopes at the strip's ends move by a pixel. */
const SCALE_STEP = 1.06;
/** So many pixels of a strip may lie beyond the frame before its other end is met there. */
const BEYOND_PIXELS = 10;

/** The likeliest place for each scale, quarter turn and mirroring. */
export function coarseCandidates(strip: Tones, negative: Tones): Candidates {
  const [whole, withoutCommon]: [Candidate[], Candidate[]] = [[], []];
  let [pixels, ways] = [0, [] as readonly Way[]];
  for (let scale = SMALLEST_SCALE; scale <= LARGEST_SCALE; scale *= SCALE_STEP) {
    const fitting = Math.min(STRIP_PIXELS, Math.floor(MOST_FRAME_PIXELS * scale));
    if (fitting !== pixels) [pixels, ways] = [fitting, waysOf(strip, fitting)];
    const field = new SlopesField(negative, scale, pixels);
    for (const way of ways) (way.isStrip ? withoutCommon : whole).push(field.likeliest(way));
  }
  return { whole, withoutCommon };
}

function waysOf(strip: Tones, pixels: number): Way[] {
  const share = pixels / Math.max(strip.width, strip.height);
  const small = made(strip, Math.round(strip.width * share), Math.round(strip.height * share));
  return [false, true].flatMap((mirrored) =>
    [0, 1, 2, 3].flatMap((quarterTurns) =>
      // With what all rows have alike, and without: it may be the strip's steps, or the picture's horizon.
      [true, false].map((isStrip) => ({
        mirrored,
        quarterTurns,
        isStrip,
        slopes: insideOnly(slopesOf(inQuarters(small, mirrored, quarterTurns), isStrip)),
      })),
    ),
  );
}

interface Way {
  readonly isStrip: boolean;
  readonly mirrored: boolean;
  readonly quarterTurns: number;
  readonly slopes: Slopes;
}

/** The negative's slopes at one scale, ready to be held against strips. */
class SlopesField {
  readonly #scale: number;
  readonly #slopes: Slopes;
  readonly #waves: ComplexField;

  constructor(negative: Tones, scale: number, stripPixels: number) {
    const times = Math.min(1, stripPixels / scale / Math.max(negative.width, negative.height));
    this.#scale = scale;
    const side = (pixels: number) => Math.max(4, Math.round(pixels * times));
    this.#slopes = slopesOf(made(negative, side(negative.width), side(negative.height)));
    const { width, height } = this.#slopes;
    this.#waves = emptyField(powerOfTwo(width), powerOfTwo(height));
    laid(this.#slopes, this.#waves);
    transform(this.#waves, false, height);
  }

  likeliest({ mirrored, quarterTurns, slopes }: Way): Candidate {
    const { width, height } = this.#waves;
    const product = emptyField(width, height);
    laid(slopes, product);
    transform(product, false, slopes.height);
    multiplyByOther(product, this.#waves);
    transform(product, true);
    const [best, sum] = [greatest(product.real), weight(slopes)];
    const [left, top] = [
      unwrapped(best % width, width, slopes.width),
      unwrapped(Math.floor(best / width), height, slopes.height),
    ];
    const side = Math.max(this.#slopes.width, this.#slopes.height);
    return {
      placement: {
        mirrored,
        turnRadians: (quarterTurns * Math.PI) / 2,
        scale: this.#scale,
        shiftX: (left + (slopes.width - this.#slopes.width) / 2) / side,
        shiftY: (top + (slopes.height - this.#slopes.height) / 2) / side,
      },
      likeness: sum === 0 ? 0 : product.real[best]! / (width * height) / sum,
    };
  }
}

function powerOfTwo(pixels: number): number {
  return 2 ** Math.ceil(Math.log2(Math.max(pixels, STRIP_PIXELS) + BEYOND_PIXELS));
}

function laid({ width, height, across, down }: Slopes, field: ComplexField): void {
  for (let row = 0; row < height; row++) {
    field.real.set(across.subarray(row * width, (row + 1) * width), row * field.width);
    field.imaginary.set(down.subarray(row * width, (row + 1) * width), row * field.width);
  }
}

/** The other times this one's conjugate: a correlation, once it is transformed back. */
function multiplyByOther({ real, imaginary }: ComplexField, other: ComplexField): void {
  for (let at = 0; at < real.length; at++) {
    const a = real[at]!;
    const b = imaginary[at]!;
    real[at] = a * other.real[at]! + b * other.imaginary[at]!;
    imaginary[at] = a * other.imaginary[at]! - b * other.real[at]!;
  }
}

function greatest(values: Float32Array): number {
  let best = 0;
  for (let at = 1; at < values.length; at++) if (values[at]! > values[best]!) best = at;
  return best;
}

/** A shift that lies beyond the frame's first edge comes out at the far end. */
function unwrapped(shift: number, count: number, stripPixels: number): number {
  return shift > count - Math.max(BEYOND_PIXELS, Math.min(stripPixels, count / 3)) ? shift - count : shift;
}

function weight({ across, down }: Slopes): number {
  return across.reduce((sum, each, at) => sum + each * each + down[at]! ** 2, 0);
}

/** The edge of the border is none of the picture. */
function insideOnly(slopes: Slopes): Slopes {
  const { width, height, across, down } = slopes;
  const inset = Math.ceil(Math.max(width, height) * BORDER_SHARE);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (x < inset || y < inset || x >= width - inset || y >= height - inset) {
        across[y * width + x] = 0;
        down[y * width + x] = 0;
      }
  return slopes;
}
const BORDER_SHARE = 0.02;
