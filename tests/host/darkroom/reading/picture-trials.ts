import { lightOfSrgb, type Negative } from '../../../../host/darkroom/negative/negative.js';
import { type Spot, spotOf } from '../../../../host/darkroom/reading/by-negative/read-by-negative.js';
import { readStrip, type StripReading } from '../../../../host/darkroom/reading/read-strip.js';
import { onNegative } from '../../../../host/darkroom/reading/registration/placement.js';
import type { StripScan } from '../../../../host/darkroom/reading/strip-scan.js';
import { Random } from '../../../setup/random.js';
import { type FilmScanner, type MadeNegative, madeNegative, scannedNegative } from './made-negative.js';
import {
  FILM_BASE,
  type MadeEasel,
  type MadePictureStrip,
  madeEasel,
  madePictureStrip,
} from './made-picture-strip.js';
import { normal } from './normal.js';
import type { Device } from './scanner-model.js';

/** Of a strip with its negative's picture all that is known, and what was read of it. */
export interface PictureTrial {
  readonly seed: number;
  readonly film: MadeNegative;
  readonly scanner: FilmScanner;
  readonly negative: Negative;
  readonly easel: MadeEasel;
  readonly strip: MadePictureStrip;
  readonly reading: StripReading;
  readonly truth: PictureTruth;
}

export interface PictureTruth {
  /** log2 of the milliseconds that give 0.60 above white in the middle of the negative's tones. */
  readonly baseStops: number;
  readonly rangeR: number;
  readonly contrast: number;
}

export interface PictureWishes {
  readonly device: Device;
  readonly size?: number;
  /** The strip is of another negative than its scan. */
  readonly isAnother?: boolean;
}

export function pictureTrial(
  seed: number,
  { device, size = 400, isAnother = false }: PictureWishes,
): PictureTrial {
  const random = new Random(seed);
  const film = madeNegative(random);
  const easel = madeEasel(random);
  const scanner = { gamma: 1 + 0.05 * normal(random), offset: 0.3 };
  const negative = scannedNegative(isAnother ? madeNegative(new Random(seed + 500_000)) : film, scanner);
  const strip = madePictureStrip(random, film, easel, { device, size });
  const asked = { dosesMs: strip.dosesMs, tone: 0.6, device, negative: { negative } };
  const reading = readStrip(scanOf(strip, device), asked);
  const contrast = easel.contrast / scanner.gamma;
  const truth = { baseStops: baseStops(film, easel, scanner, negative), rangeR: easel.rangeR, contrast };
  return { seed, film, scanner, negative, easel, strip, reading, truth };
}

export function scanOf({ width, height, codes }: MadePictureStrip, device: Device): StripScan {
  const light = Float32Array.from(codes, (code) => lightOfSrgb(code / 255));
  return { width, height, light, filePixels: 1, colour: 'sRGB', device };
}

/** By film, enlarger and paper, of which a reader knows nothing. */
export function baseStops(
  film: MadeNegative,
  easel: MadeEasel,
  scanner: FilmScanner,
  negative: Negative,
  spot?: Spot,
): number {
  const through = (density: number) => 10 ** (-easel.contrast * (density + FILM_BASE));
  const mean = film.density.reduce((sum, density) => sum + through(density), 0) / film.density.length;
  const scanned = -spotOf({ negative, spot }) - negativeBase(scanner);
  return Math.log2(easel.speedMs / (through(scanned / scanner.gamma) + easel.flareShare * mean));
}

/** What a scan says of film without a picture: the scanner's offset, and the base that every scan is given. */
function negativeBase({ offset }: FilmScanner): number {
  return offset + 0.25;
}

/** Of the edges between patches: how many lie within a hundredth of the strip's length. */
export function edgesFound({ strip, reading }: PictureTrial): { found: number; all: number } {
  const near = reading.patches
    .slice(1)
    .filter(({ fromPx, toPx }, at) =>
      [fromPx, toPx].some((px) => Math.abs(px - strip.edgesPx[at + 1]!) <= 0.01 * strip.width + 1),
    );
  return { found: near.length, all: strip.dosesMs.length - 1 };
}

/** The median of what places of the strip lie off their own on the negative, in pixels of the strip's scan. */
export function registrationOff({ strip, film, reading }: PictureTrial): number {
  const place = onNegative(reading.placed!.registration!.placement, strip, film);
  const [here, next] = [strip.place.toNegative(0, 0), strip.place.toNegative(1, 0)];
  const pixel = Math.hypot(next[0] - here[0], next[1] - here[1]);
  const misses = [0.1, 0.5, 0.9].flatMap((across) =>
    [0.15, 0.85].map((down) => {
      const at = [across * strip.width, down * strip.height] as const;
      const [got, truth] = [place(...at), strip.place.toNegative(...at)];
      return Math.hypot(got[0] - truth[0], got[1] - truth[1]) / pixel;
    }),
  );
  return misses.sort((one, other) => one - other)[3]!;
}
