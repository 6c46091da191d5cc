import sharp from 'sharp';
import { Random } from '../../../setup/random.js';
import { madeProfile, withProfile } from './made-profile.js';

/** A strip as somebody else would make it up: no lamp, no paper and no scanner of the project are in it. */
export interface OutsideStrip {
  readonly curve: 'tanh' | 'logistic' | 'gompertz';
  readonly patches: number;
  readonly stepStops: number;
  /** In steps from the first patch to the exposure of 0.60. */
  readonly baseAt: number;
  readonly length: number;
  /** Quarter turns of the finished picture. */
  readonly turns: 0 | 1 | 2 | 3;
  /** Sides that have a white border, the last patch's to the right. */
  readonly border: readonly ('left' | 'right' | 'top' | 'bottom')[];
  /** What lies about the paper, as a share of its light; nothing by default. */
  readonly lid?: number;
  /** Of the edges between the patches, and of the whole sheet on its lid. */
  readonly tiltDegrees?: number;
  readonly crookedDegrees?: number;
  /** A shade that grows all along, as the tones of the patches would, and no patches. */
  readonly isShade?: true;
  readonly noise?: number;
  readonly bits: 8 | 16;
  readonly colours?: true;
  /** Of the profile in the file; sRGB and none by default. */
  readonly gamma?: number;
}

const BLACK = 2.05;
const STEEPNESS = 4.2;
const WHITE = 0.86;

const rising = {
  tanh: (u: number) => (1 + Math.tanh(u / 2)) / 2,
  logistic: (u: number) => 1 / (1 + Math.exp(-1.2 * u)),
  gompertz: (u: number) => Math.exp(-Math.exp(-0.8 * u)),
};

export function toneOf({ curve, stepStops, baseAt }: OutsideStrip, patch: number): number {
  const share = rising[curve];
  let atBase = -10;
  while (BLACK * share(atBase) < 0.6) atBase += 0.001;
  return BLACK * share(atBase + STEEPNESS * Math.log10(2) * stepStops * (patch - baseAt));
}

/** The light of each pixel along a shade whose tone goes through those of the patches at their middles. */
function shadeOf(strip: OutsideStrip): readonly number[] {
  const logs = Array.from({ length: strip.patches + 2 }, (_, at) => -toneOf(strip, at - 1));
  return Array.from({ length: strip.length }, (_, px) => {
    const at = ((px + 0.5) * strip.patches) / strip.length + 0.5;
    const before = Math.floor(at);
    return 10 ** (logs[before]! + (logs[before + 1]! - logs[before]!) * (at - before));
  });
}

export async function outsidePng(strip: OutsideStrip): Promise<Buffer> {
  const { length, bits, colours, gamma, turns } = strip;
  const random = new Random(length);
  const height = Math.round(length * 0.3);
  const lidPx = strip.lid === undefined ? 0 : Math.round(length * 0.05);
  const borderOf = (side: OutsideStrip['border'][number]) =>
    lidPx + (strip.border.includes(side) ? Math.round(length * 0.05) : 0);
  const [left, right, top, bottom] = [
    borderOf('left'),
    borderOf('right'),
    borderOf('top'),
    borderOf('bottom'),
  ];
  const [width, depth] = [left + length + right, top + height + bottom];
  const shares = Array.from({ length: strip.patches }, (_, patch) => 10 ** -toneOf(strip, patch));
  const shade = strip.isShade ? shadeOf(strip) : [];
  const lean = Math.tan(((strip.tiltDegrees ?? 0) * Math.PI) / 180);
  const crooked = ((strip.crookedDegrees ?? 0) * Math.PI) / 180;
  const codes = new Uint16Array(width * depth * (colours ? 3 : 1));
  for (let row = 0; row < depth; row++)
    for (let column = 0; column < width; column++) {
      const [across, down] = [column - width / 2, row - depth / 2];
      const x = width / 2 + Math.cos(crooked) * across + Math.sin(crooked) * down;
      const y = depth / 2 - Math.sin(crooked) * across + Math.cos(crooked) * down;
      const along = x - left - lean * (y - depth / 2);
      const isOnStrip = x >= left && x < left + length && y >= top && y < top + height;
      const isOnLid = x < lidPx || x >= width - lidPx || y < lidPx || y >= depth - lidPx;
      const patch = Math.min(strip.patches - 1, Math.max(0, Math.floor((along * strip.patches) / length)));
      const paper = isOnStrip ? (strip.isShade ? shade[Math.floor(along)]! : shares[patch]!) : 1;
      const share = isOnLid ? (strip.lid ?? 1) : paper;
      const scatter = 1 + (strip.noise ?? 0) * (random.share() + random.share() + random.share() - 1.5) * 2;
      const light = Math.min(1, WHITE * share * scatter);
      const code = gamma === undefined ? coded(light) : light ** (1 / gamma);
      codes.fill(
        Math.round(code * 65_535),
        (row * width + column) * (colours ? 3 : 1),
        (row * width + column + 1) * (colours ? 3 : 1),
      );
    }
  const raw = { raw: { width, height: depth, channels: colours ? 3 : 1 } } as const;
  const pixels = bits === 16 ? codes : Uint8Array.from(codes, (code) => Math.round(code / 257));
  const space = bits === 16 ? (colours ? 'rgb16' : 'grey16') : colours ? 'srgb' : 'b-w';
  const picture = sharp(pixels, raw)
    .rotate(90 * turns)
    .toColourspace(space);
  const png = await picture.png({ compressionLevel: 1 }).toBuffer();
  return gamma === undefined ? png : withProfile(png, madeProfile(colours ? 'RGB ' : 'GRAY', gamma));
}

/** IEC 61966-2-1. */
function coded(light: number): number {
  return light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
}
