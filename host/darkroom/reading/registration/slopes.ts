import type { Tones } from './tones.js';

/**
 * Which way the tones of a picture rise, from place to place, and how surely: up to 1. A paper's curve changes how much they
 * rise, and the steps of a strip add edges, but neither turns them round.
 * A. J. Fitch, A. Kadyrov, W. J. Christmas, J. Kittler, 'Orientation correlation', BMVC 2002, from memory.
 */
export interface Slopes {
  readonly width: number;
  readonly height: number;
  readonly across: Float32Array;
  readonly down: Float32Array;
}

/** Of the places that have any slope, this share is held steep enough to be sure of. */
const SURE_SHARE = 0.6;
const FLAT = 1e-4;

export function slopesOf(picture: Tones, isStrip = false): Slopes {
  const { width, height, tones } = softened(picture);
  const across = new Float32Array(tones.length);
  const down = new Float32Array(tones.length);
  for (let y = 1; y < height - 1; y++)
    for (let x = 1; x < width - 1; x++) {
      const at = y * width + x;
      across[at] = tones[at + 1]! - tones[at - 1]!;
      down[at] = tones[at + width]! - tones[at - width]!;
    }
  if (isStrip) {
    takeCommonAway(across, width, height, 1, width);
    takeCommonAway(down, height, width, width, 1);
  }
  makeAlike(across, down, steepness(across, down));
  return { width, height, across, down };
}

/** What a whole column or row has alike is the strip's steps and borders, and none of the picture. */
function takeCommonAway(
  slopes: Float32Array,
  lines: number,
  length: number,
  lineStep: number,
  step: number,
): void {
  for (let line = 0; line < lines; line++) {
    const values = Float32Array.from({ length }, (_, at) => slopes[line * lineStep + at * step]!).sort();
    const common = values[Math.floor(length / 2)]!;
    for (let at = 0; at < length; at++) slopes[line * lineStep + at * step]! -= common;
  }
}

function steepness(across: Float32Array, down: Float32Array): number {
  const sizes = new Float32Array(across.length);
  let count = 0;
  for (let at = 0; at < across.length; at++) {
    const size = steepnessOf(across[at]!, down[at]!);
    if (size > FLAT) sizes[count++] = size;
  }
  return sizes.subarray(0, count).sort()[Math.floor(SURE_SHARE * count)] ?? 1;
}

function makeAlike(across: Float32Array, down: Float32Array, steep: number): void {
  for (let at = 0; at < across.length; at++) {
    const size = steepnessOf(across[at]!, down[at]!);
    const share = size > FLAT ? size / (size * size + steep * steep) : 0;
    across[at]! *= share;
    down[at]! *= share;
  }
}

/** `Math.hypot` takes many times as long, for a care with huge numbers that slopes don't need. */
export function steepnessOf(across: number, down: number): number {
  return Math.sqrt(across * across + down * down);
}

/** 1, 2, 1 across and down. */
function softened({ width, height, tones }: Tones): Tones {
  const rows = softenedAlong(tones, 1, width, height, width);
  return { width, height, tones: softenedAlong(rows, width, height, width, 1) };
}

function softenedAlong(
  values: Float32Array,
  step: number,
  length: number,
  lines: number,
  lineStep: number,
): Float32Array {
  const out = new Float32Array(values.length);
  for (let line = 0; line < lines; line++)
    for (let at = 0; at < length; at++) {
      const place = line * lineStep + at * step;
      const before = at > 0 ? values[place - step]! : values[place]!;
      const after = at < length - 1 ? values[place + step]! : values[place]!;
      out[place] = (before + 2 * values[place]! + after) / 4;
    }
  return out;
}
