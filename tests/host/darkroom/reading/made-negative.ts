import { boathouseNegative } from '../../../../host/darkroom/negative/demo-negative.js';
import { type Negative, negativeBounds, scanTable } from '../../../../host/darkroom/negative/negative.js';
import { ValueNoise } from '../../../../host/darkroom/negative/value-noise.js';
import type { Random } from '../../../setup/random.js';

/** Film of which the density above its base is known, and the picture that a scanner made of it. */
export interface MadeNegative {
  readonly width: number;
  readonly height: number;
  /** Density above base and fog. */
  readonly density: Float32Array;
}

const HEIGHT = 240;

/** A boathouse, or a scene of hills, walls and windows that no other seed has. */
export function madeNegative(random: Random): MadeNegative {
  return random.chance(0.5) ? boathouse(random) : scene(random);
}

function boathouse(random: Random): MadeNegative {
  const { width, height, samples, logTransmittance } = boathouseNegative(HEIGHT, random.below(10_000));
  const stretch = 0.85 + 0.3 * random.share();
  const density = Float32Array.from(samples, (code) => stretch * (-0.25 - logTransmittance[code]!));
  return { width, height, density };
}

function scene(random: Random): MadeNegative {
  const [width, height] = [HEIGHT * 1.5, HEIGHT];
  const noise = new ValueNoise(random.below(1_000_000));
  const range = 0.95 + 0.35 * random.share();
  const things = Array.from({ length: random.between(6, 14) }, () => ({
    x: random.share() * 1.5,
    y: random.share(),
    width: 0.05 + 0.25 * random.share(),
    height: 0.05 + 0.25 * random.share(),
    tone: random.share(),
    isRound: random.chance(0.4),
  }));
  const density = new Float32Array(width * height);
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const [x, y] = [column / HEIGHT, row / HEIGHT];
      let tone = 0.5 + 0.55 * noise.layered(x * 3, y * 3, 5) + 0.25 * (0.5 - y);
      for (const thing of things) {
        const [u, v] = [(x - thing.x) / thing.width, (y - thing.y) / thing.height];
        const isInside = thing.isRound ? u * u + v * v < 1 : Math.abs(u) < 1 && Math.abs(v) < 1;
        if (isInside) tone = 0.7 * thing.tone + 0.3 * tone;
      }
      const grain = 0.015 * (noise.at(column, row) + noise.at(column >> 1, row >> 1) - 1);
      density[row * width + column] = range * Math.min(1.15, Math.max(0, tone)) + grain;
    }
  return { width, height, density };
}

/** The tone curve of one scanner: densities come out this many times as large, and all by so much off. */
export interface FilmScanner {
  readonly gamma: number;
  readonly offset: number;
}

/** As `treadle` reads a scan of it: codes of sRGB, the base not full. */
export function scannedNegative(
  { width, height, density }: MadeNegative,
  { gamma, offset }: FilmScanner,
): Negative {
  const top = negativeBounds.codes - 1;
  const samples = Uint16Array.from(density, (each) =>
    Math.round(top * encoded(10 ** -Math.max(0, gamma * each + offset))),
  );
  const reading = { as: 'negative', coding: 'srgb', baseDensity: 0.25, densityRange: 1.05 } as const;
  return { width, height, samples, logTransmittance: scanTable(reading) };
}

/** IEC 61966-2-1. */
function encoded(light: number): number {
  return light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055;
}
