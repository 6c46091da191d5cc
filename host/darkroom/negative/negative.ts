import type { FilmTie } from '../../recipe/film-tie.js';

/** A negative as the enlarger sees it: how much light it lets through, pixel by pixel, in print orientation. */
export interface Negative {
  readonly width: number;
  readonly height: number;
  /** 16-bit codes in rows from the top left. */
  readonly samples: Uint16Array;
  /** log10 of the transmittance (the density, negated) for every code. */
  readonly logTransmittance: Float32Array;
  /** So many pixels show no film, but what lies beyond it: as the densest code, and no tone of the picture. */
  readonly beyondFilm?: number;
  /** By what a strip told, `logTransmittance` is light at the easel, stray light and all. */
  readonly tie?: FilmTie;
}

export const negativeBounds = {
  pixels: 120_000_000,
  /** As many pixels, of four colours in 16 bits, and a little for what else a file has. */
  fileBytes: 1_000_000_000,
  sidePixels: 20_000,
  /** Denser than this is as good as opaque, and no scanner sees it. */
  highestDensity: 3.6,
  codes: 0x1_0000,
} as const;

/** How a scan's numbers are to be read. */
export interface ScanReading {
  /** 'negative': bright where the film is thin. 'positive': already turned, bright where the print is to be. */
  readonly as: 'negative' | 'positive';
  /** 'linear': numbers proportional to light. 'srgb': coded for a screen (IEC 61966-2-1). */
  readonly coding: 'linear' | 'srgb';
  /** The thinnest part's density, and for a positive how far densities reach above it. */
  readonly baseDensity: number;
  readonly densityRange: number;
}

export const commonScanReading: ScanReading = {
  as: 'negative',
  coding: 'srgb',
  baseDensity: 0.25,
  densityRange: 1.05,
};

/** log10 of the transmittance for each 16-bit code. */
export function scanTable(reading: ScanReading): Float32Array {
  const top = negativeBounds.codes - 1;
  return Float32Array.from({ length: negativeBounds.codes }, (_, code) => {
    const share = code / top;
    if (reading.as === 'positive') return -(reading.baseDensity + reading.densityRange * share);
    const light = reading.coding === 'srgb' ? lightOfSrgb(share) : share;
    return Math.max(-negativeBounds.highestDensity, Math.log10(light) - reading.baseDensity);
  });
}

/** IEC 61966-2-1, decoding: the light that a screen gives for a code, both as shares of full. */
export function lightOfSrgb(code: number): number {
  return code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4;
}

/** IEC 61966-2-1, encoding. */
export function srgbOfLight(light: number): number {
  return light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055;
}

/** Dense film is at one end of a scan's numbers: which, depends on what they mean. */
export function densestCode(logTransmittance: Float32Array): number {
  const last = logTransmittance.length - 1;
  return logTransmittance[0]! <= logTransmittance[last]! ? 0 : last;
}

/** log10 transmittance at a point in per cent of the print, of the pixel that lies there. */
export function logTransmittanceAt(negative: Negative, xPercent: number, yPercent: number): number {
  const column = pixelAt(xPercent, negative.width);
  const row = pixelAt(yPercent, negative.height);
  return negative.logTransmittance[negative.samples[row * negative.width + column]!]!;
}

function pixelAt(percent: number, count: number): number {
  return Math.min(count - 1, Math.max(0, Math.floor((percent / 100) * count)));
}
