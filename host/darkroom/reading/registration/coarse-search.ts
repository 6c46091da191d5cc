import { type ComplexField, emptyField, transform } from './fourier.js';
import type { Placement } from './placement.js';
import { type Slopes, slopesOf, steepnessOf } from './slopes.js';
import { inQuarters, made, type Tones } from './tones.js';

export interface Candidate {
  readonly placement: Placement;
  /** Share of the strip's slopes that go the way of the negative's, from -1 to 1. */
  readonly likeness: number;
}

/** The strip's longer side here, in pixels: at half as many, few features look like many places. */
const STRIP_PIXELS = 80;
/** The frame's sides at most, so that with what is beyond it powers of two are not passed. */
const MOST_FRAME_PIXELS = { long: 246, short: 118 };
/** The strip's longer side to the frame's: from a narrow strip to one wider than the frame that shows its border. */
const SMALLEST_SCALE = 0.3;
const LARGEST_SCALE = 1.7;
/** From scale to scale, slopes at the strip's ends move by a pixel. */
const SCALE_STEP = 1.06;
/** So many pixels of a strip may lie beyond the frame before its other end is met there. */
const BEYOND_PIXELS = 10;

/** The likeliest places for each scale, quarter turn and mirroring. */
export function coarseCandidates(strip: Tones, negative: Tones): Candidate[] {
  const [long, short] = [
    Math.max(negative.width, negative.height),
    Math.min(negative.width, negative.height),
  ];
  const mostFrame = Math.min(MOST_FRAME_PIXELS.long, (MOST_FRAME_PIXELS.short * long) / short);
  const found: Candidate[] = [];
  let [pixels, ways] = [0, [] as readonly Way[]];
  for (let scale = SMALLEST_SCALE; scale <= LARGEST_SCALE; scale *= SCALE_STEP) {
    const fitting = Math.min(STRIP_PIXELS, Math.floor(mostFrame * scale));
    if (fitting !== pixels) [pixels, ways] = [fitting, waysOf(strip, fitting)];
    const field = new SlopesField(negative, scale, pixels);
    for (const way of ways) found.push(...field.likeliest(way));
  }
  return found;
}

function waysOf(strip: Tones, pixels: number): Way[] {
  const share = pixels / Math.max(strip.width, strip.height);
  const small = made(strip, Math.round(strip.width * share), Math.round(strip.height * share));
  return [false, true].flatMap((mirrored) =>
    [0, 1, 2, 3].map((quarterTurns) => {
      const slopes = slopesOf(inQuarters(small, mirrored, quarterTurns), true);
      return new Way(mirrored, quarterTurns, insideOnly(slopes));
    }),
  );
}

/** The strip as it may lie, its waves kept from scale to scale. */
class Way {
  readonly weight: number;
  #waves: StripWaves | undefined;

  constructor(
    readonly mirrored: boolean,
    readonly quarterTurns: number,
    readonly slopes: Slopes,
  ) {
    this.weight = weight(slopes);
  }

  wavesIn(width: number, height: number): StripWaves {
    if (this.#waves?.slopes.width !== width || this.#waves.slopes.height !== height)
      this.#waves = stripWaves(this.slopes, width, height);
    return this.#waves;
  }
}

interface StripWaves {
  readonly slopes: ComplexField;
  /** Of the places that have a slope. */
  readonly steep: ComplexField;
}

function stripWaves(slopes: Slopes, width: number, height: number): StripWaves {
  const waves = { slopes: emptyField(width, height), steep: emptyField(width, height) };
  laid(slopes, waves.slopes);
  layShares(slopes, waves.steep, (size) => size);
  transform(waves.slopes, false, slopes.height);
  transform(waves.steep, false, slopes.height);
  return waves;
}

/** The negative's slopes at one scale, ready to be held against strips. */
class SlopesField {
  readonly #scale: number;
  readonly #slopes: Slopes;
  readonly #waves: ComplexField;
  /** Of how steep it is. */
  readonly #steepness: ComplexField;

  constructor(negative: Tones, scale: number, stripPixels: number) {
    const times = Math.min(1, stripPixels / scale / Math.max(negative.width, negative.height));
    this.#scale = scale;
    const side = (pixels: number) => Math.max(4, Math.round(pixels * times));
    this.#slopes = slopesOf(made(negative, side(negative.width), side(negative.height)));
    const { width, height } = this.#slopes;
    this.#waves = emptyField(powerOfTwo(width), powerOfTwo(height));
    this.#steepness = emptyField(this.#waves.width, this.#waves.height);
    laid(this.#slopes, this.#waves);
    layShares(this.#slopes, this.#steepness, (size) => size * size);
    transform(this.#waves, false, height);
    transform(this.#steepness, false, height);
  }

  likeliest(way: Way): Candidate[] {
    const { width, height } = this.#waves;
    const found = this.#agreement(way);
    const places: Candidate[] = [];
    for (let peak = 0; peak < PEAKS; peak++) {
      const best = greatest(found);
      if (!(found[best]! > 0)) break;
      places.push({ placement: this.#placementAt(best, way), likeness: found[best]! });
      for (let y = -PEAK_PIXELS; y <= PEAK_PIXELS; y++)
        for (let x = -PEAK_PIXELS; x <= PEAK_PIXELS; x++)
          found[wrapped(Math.floor(best / width) + y, height) * width + wrapped((best % width) + x, width)] =
            0;
    }
    return places;
  }

  /** For each shift: the slopes' agreement, by how steep both are where the strip has slopes. */
  #agreement(way: Way): Float32Array {
    const { width, height } = this.#waves;
    const waves = way.wavesIn(width, height);
    const field = emptyField(width, height);
    layBoth(field, waves, this.#waves, this.#steepness);
    transform(field, true);
    const count = width * height;
    const { real, imaginary } = field;
    for (let at = 0; at < count; at++)
      real[at] =
        real[at]! /
        count /
        Math.sqrt(way.weight * Math.max(imaginary[at]! / count, LEAST_TEXTURE * way.weight));
    return real;
  }

  #placementAt(best: number, { mirrored, quarterTurns, slopes }: Way): Placement {
    const { width, height } = this.#waves;
    const [left, top] = [
      unwrapped(best % width, width, slopes.width),
      unwrapped(Math.floor(best / width), height, slopes.height),
    ];
    const side = Math.max(this.#slopes.width, this.#slopes.height);
    return {
      mirrored,
      turnRadians: (quarterTurns * Math.PI) / 2,
      scale: this.#scale,
      shiftX: (left + (slopes.width - this.#slopes.width) / 2) / side,
      shiftY: (top + (slopes.height - this.#slopes.height) / 2) / side,
    };
  }
}
/** Places of one way and scale that are looked at, and how far apart they are. */
const PEAKS = 2;
const PEAK_PIXELS = 3;
/** A place of the negative without a picture is like everything. */
const LEAST_TEXTURE = 0.3;

function wrapped(at: number, count: number): number {
  return (at + count) % count;
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

function layShares(
  { width, height, across, down }: Slopes,
  field: ComplexField,
  share: (size: number) => number,
): void {
  for (let row = 0; row < height; row++)
    for (let x = 0; x < width; x++)
      field.real[row * field.width + x] = share(
        steepnessOf(across[row * width + x]!, down[row * width + x]!),
      );
}

/**
 * The waves of two correlations in one field: the slopes' comes back as its real part, which is the half of it that is the
 * same from both ends, and that of steepness as its imaginary.
 */
function layBoth(
  { width, height, real, imaginary }: ComplexField,
  { slopes, steep }: StripWaves,
  waves: ComplexField,
  steepness: ComplexField,
): void {
  for (let row = 0; row < height; row++)
    for (let x = 0; x < width; x++) {
      const at = row * width + x;
      const other = wrapped(-row, height) * width + wrapped(-x, width);
      real[at] =
        (dotted(slopes, waves, at) + dotted(slopes, waves, other)) / 2 - crossed(steep, steepness, at);
      imaginary[at] =
        (crossed(slopes, waves, at) - crossed(slopes, waves, other)) / 2 + dotted(steep, steepness, at);
    }
}

/** Real and imaginary part of the one's conjugate times the other. */
function dotted(one: ComplexField, other: ComplexField, at: number): number {
  return one.real[at]! * other.real[at]! + one.imaginary[at]! * other.imaginary[at]!;
}

function crossed(one: ComplexField, other: ComplexField, at: number): number {
  return one.real[at]! * other.imaginary[at]! - one.imaginary[at]! * other.real[at]!;
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
