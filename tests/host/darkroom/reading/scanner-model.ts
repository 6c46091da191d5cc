import { ValueNoise } from '../../../../host/darkroom/negative/value-noise.js';
import type { Random } from '../../../setup/random.js';
import { normal } from './normal.js';

export type Device = 'flatbed' | 'phone';

export type Trouble =
  | 'clipped'
  | 'automatic tone'
  | 'too light'
  | 'too dark'
  | 'patch missing'
  | 'dark phone'
  | 'glare'
  | 'moire'
  | 'a print, no strip'
  | 'nothing on it';

interface Figures {
  readonly unevenShare: number;
  readonly flare: readonly [mean: number, deviation: number];
  readonly gammaDeviation: number;
  readonly sCurveDeviation: number;
  readonly noiseCodes: number;
}

/** What the trials of the project took for both; from practitioners' reports, and no device was measured. */
const figuresOf: Record<Device, Figures> = {
  flatbed: {
    unevenShare: 0.01,
    flare: [0.003, 0.0015],
    gammaDeviation: 0.03,
    sCurveDeviation: 0,
    noiseCodes: 1,
  },
  phone: {
    unevenShare: 0.03,
    flare: [0.03, 0.01],
    gammaDeviation: 0.1,
    sCurveDeviation: 0.05,
    noiseCodes: 2,
  },
};

interface Sheet {
  readonly width: number;
  readonly height: number;
  /** Above paper white. */
  readonly density: Float32Array;
}

/** What one device has in all its pictures. */
export interface Scanner {
  readonly flare: number;
  readonly gamma: number;
  readonly sCurve: number;
}

export function drawnScanner(random: Random, device: Device): Scanner {
  const { flare, gammaDeviation, sCurveDeviation } = figuresOf[device];
  return {
    flare: Math.max(0, flare[0] + flare[1] * normal(random)),
    gamma: 1 + gammaDeviation * normal(random),
    sCurve: sCurveDeviation * normal(random),
  };
}

/** The picture that a device makes of a sheet: 8 bits, coded for a screen. */
export function seenBy(
  random: Random,
  device: Device,
  sheet: Sheet,
  trouble?: Trouble,
  scanner = drawnScanner(random, device),
): Uint8Array {
  const light = lightOf(random, figuresOf[device], scanner, sheet, trouble);
  const codes = light.map(encoded);
  if (trouble === 'automatic tone') stretch(codes);
  const { noiseCodes } = figuresOf[device];
  const noise = Array.from({ length: 4099 }, () => noiseCodes * normal(random));
  const seen = new Uint8Array(codes.length);
  for (let at = 0; at < seen.length; at++)
    seen[at] = within255(codes[at]! * 255 + noise[(at + random.below(7)) % noise.length]!);
  dust(random, sheet, seen);
  return seen;
}

function lightOf(
  random: Random,
  figures: Figures,
  { flare, gamma, sCurve }: Scanner,
  { width, height, density }: Sheet,
  trouble?: Trouble,
): Float32Array {
  const gain = trouble === 'clipped' ? 1.25 : trouble === 'dark phone' ? 0.04 : 0.8 + 0.1 * random.share();
  const slopes = [0, 1, 2].map(() => figures.unevenShare * normal(random));
  const noise = new ValueNoise(random.below(1_000_000));
  const glare = { x: width * (0.55 + 0.3 * random.share()), y: height / 2, radius: height * 0.3 };
  const waves = 0.6 + 0.5 * random.share();
  const shareOf = lastOne((each) => (10 ** -each + flare) / (1 + flare));
  const tonedOf = lastOne((share) => {
    const toned = share ** gamma;
    return toned + sCurve * toned * (1 - toned) * (toned - 0.3);
  });
  return density.map((each, at) => {
    const x = at % width;
    const y = Math.floor(at / width);
    const u = x / width - 0.5;
    const v = y / height - 0.5;
    const even =
      1 +
      slopes[0]! * u +
      slopes[1]! * v -
      Math.abs(slopes[2]!) * (u * u + v * v) +
      0.3 * figures.unevenShare * noise.smooth(3 * u + 9, 3 * v + 9);
    let share = shareOf(each);
    if (trouble === 'moire') share *= 1 + 0.25 * Math.sin(waves * x);
    if (trouble === 'glare')
      share += 0.5 * Math.max(0, 1 - Math.hypot(x - glare.x, y - glare.y) / glare.radius);
    return Math.min(1, Math.max(0, gain * even * tonedOf(share)));
  });
}

/** Neighbours are mostly alike: what was worked out for the last one is kept. */
function lastOne(of: (x: number) => number): (x: number) => number {
  let [last, answer] = [Number.NaN, Number.NaN];
  return (x) => {
    if (x !== last) [last, answer] = [x, of(x)];
    return answer;
  };
}

/** The lightest and the darkest half per cent go to the ends of the scale. */
function stretch(codes: Float32Array): void {
  const sorted = Float32Array.from(codes).sort();
  const [low, high] = [sorted[Math.floor(sorted.length * 0.02)]!, sorted[Math.floor(sorted.length * 0.9)]!];
  codes.forEach((code, at) => {
    codes[at] = (code - low) / (high - low);
  });
}

function dust(random: Random, { width, height }: Sheet, codes: Uint8Array): void {
  for (let speck = random.below(40); speck > 0; speck--) {
    const at = random.below(width * (height - 2) - 2);
    const code = random.chance(0.5) ? 250 : 20;
    for (const each of [at, at + 1, at + width, at + width + 1]) codes[each] = code;
  }
}

function within255(code: number): number {
  return Math.min(255, Math.max(0, Math.round(code)));
}

/** IEC 61966-2-1, as any device that says sRGB codes its light. */
function encoded(light: number): number {
  return light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055;
}
