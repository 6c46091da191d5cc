import { describe, expect, it } from 'vitest';
import { readStrip, type StripReading } from '../../../../host/darkroom/reading/read-strip.js';
import type { StripScan } from '../../../../host/darkroom/reading/strip-scan.js';
import { Random, scatteredSeed } from '../../../setup/random.js';
import { type MadeStrip, madeStrip } from './made-strip.js';
import { scanOf } from './reading-trials.js';

const SCALE = [0, 0.2, 0.4, 0.6, 0.8, 1, 1.2];
const LID = 0.04;
const GAP = 12;
const PATCH = 26;

interface WithScale {
  readonly strip: MadeStrip;
  readonly scan: StripScan;
  /** The middle of a patch of the scale. */
  readonly placeOf: (density: number) => { x: number; y: number };
}

/** A grey scale on the same glass, on the lid below the strip or to its right. */
function withScale(seed: number, side: 'below' | 'right'): WithScale {
  const strip = madeStrip(new Random(scatteredSeed(seed)), { device: 'flatbed', size: 300 });
  const alone = scanOf(strip, 'flatbed');
  const below = side === 'below' ? GAP + PATCH + GAP : 0;
  const right = side === 'right' ? GAP + PATCH + GAP : 0;
  const [width, height] = [alone.width + right, alone.height + below];
  const light = new Float32Array(width * height).fill(LID);
  for (let y = 0; y < alone.height; y++)
    light.set(alone.light.subarray(y * alone.width, (y + 1) * alone.width), y * width);
  const white = [...alone.light].sort((one, other) => one - other)[Math.floor(0.9 * alone.light.length)]!;
  const room = side === 'below' ? alone.width : alone.height;
  const length = Math.min(PATCH, Math.floor(room / SCALE.length));
  const corner = (at: number) =>
    side === 'below'
      ? { left: at * length, top: alone.height + GAP, across: length, down: PATCH }
      : { left: alone.width + GAP, top: at * length, across: PATCH, down: length };
  SCALE.forEach((density, at) => {
    const { left, top, across, down } = corner(at);
    for (let y = top; y < top + down; y++)
      light.fill(white * 10 ** -density, y * width + left, y * width + left + across);
  });
  const placeOf = (density: number) => {
    const { left, top, across, down } = corner(SCALE.indexOf(density));
    return { x: left + across / 2, y: top + down / 2 };
  };
  return { strip, scan: { ...alone, width, height, light }, placeOf };
}

function read({ scan, strip }: WithScale, tone: number | { x: number; y: number }): StripReading {
  return readStrip(scan, { dosesMs: strip.dosesMs, tone, device: 'flatbed' });
}

describe('a patch of a grey scale beside the strip', () => {
  it.each([
    { seed: 810_001, side: 'below' },
    { seed: 810_002, side: 'below' },
    { seed: 810_001, side: 'right' },
    { seed: 810_002, side: 'right' },
  ] as const)('$side it gives the base for its tone, seed $seed', ({ seed, side }) => {
    const made = withScale(seed, side);
    for (const density of [0.4, 0.6, 0.8]) {
      const pointed = read(made, made.placeOf(density));
      const told = read({ ...made, scan: scanOf(made.strip, 'flatbed') }, density);
      expect(pointed.refused).toBeNull();
      expect(Math.abs(pointed.tone! - density)).toBeLessThan(0.03);
      expect(Math.abs(pointed.figures!.base!.value - told.figures!.base!.value)).toBeLessThan(0.1);
    }
    const truth = Math.log2(made.strip.baseMs);
    const { low, high } = read(made, made.placeOf(0.6)).figures!.base!;
    expect(low).toBeLessThan(truth);
    expect(high).toBeGreaterThan(truth);
  });

  it('is none where two greys meet, where paper is white, and beyond the scan', () => {
    const made = withScale(810_001, 'below');
    const between = made.placeOf(0.6);
    for (const place of [
      { x: between.x + PATCH / 2, y: between.y },
      made.placeOf(0),
      { x: 5000, y: 10 },
      { x: made.scan.width - 1, y: 10 },
    ])
      expect(read(made, place)).toMatchObject({ refused: 'no-grey-there', tone: undefined });
  });
});
