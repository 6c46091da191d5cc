import { InputError } from '../../errors.js';
/**
 * What is engraved on a lens against what it means. Markings are rounded: f/11 is 8 x 2^(1/2) = 11.31, and
 * f/8 to f/11 is exactly one stop. Whole, half and third stops are mapped to their exact values.
 *
 * Source: ISO 517:2008 fixes the whole-stop markings (catalogue abstract); the half- and third-stop markings
 * from a general table of f-numbers; exact values computed as 2^(k/2), k in whole, half or third stops.
 */
export type ApertureScale = 'halves' | 'thirds';

export interface Aperture {
  /** As engraved. */
  readonly marked: number;
  /** Focal length divided by entrance pupil. */
  readonly exactFNumber: number;
}

export const apertureBounds = { min: 0.7, max: 512 } as const;

/** An aperture that cannot be read; the message says what would be understood. */
export class ApertureError extends InputError {
  override readonly name = 'ApertureError';
}

/** Stops above f/1, by marking. */
const WHOLE: Record<string, number> = {
  '0.7': -1,
  '1': 0,
  '1.4': 1,
  '2': 2,
  '2.8': 3,
  '4': 4,
  '5.6': 5,
  '8': 6,
  '11': 7,
  '16': 8,
  '22': 9,
  '32': 10,
  '45': 11,
  '64': 12,
  '90': 13,
  '128': 14,
  '180': 15,
  '256': 16,
  '360': 17,
  '512': 18,
};
const HALVES: Record<string, number> = {
  '1.2': 0.5,
  '1.7': 1.5,
  '2.4': 2.5,
  '3.4': 3.5,
  '3.5': 3.5,
  '4.8': 4.5,
  '6.7': 5.5,
  '9.5': 6.5,
  '13': 7.5,
  '19': 8.5,
  '27': 9.5,
  '38': 10.5,
  '54': 11.5,
  '76': 12.5,
};
const THIRDS: Record<string, number> = {
  '0.8': -2 / 3,
  '0.9': -1 / 3,
  '1.1': 1 / 3,
  '1.2': 2 / 3,
  '1.6': 4 / 3,
  '1.8': 5 / 3,
  '2.2': 7 / 3,
  '2.5': 8 / 3,
  '3.2': 10 / 3,
  '3.5': 11 / 3,
  '4.5': 13 / 3,
  '5': 14 / 3,
  '6.3': 16 / 3,
  '7.1': 17 / 3,
  '9': 19 / 3,
  '10': 20 / 3,
  '13': 22 / 3,
  '14': 23 / 3,
  '18': 25 / 3,
  '20': 26 / 3,
  '25': 28 / 3,
  '29': 29 / 3,
  '36': 31 / 3,
  '40': 32 / 3,
  '51': 34 / 3,
  '57': 35 / 3,
  '72': 37 / 3,
  '80': 38 / 3,
};

/**
 * Reads 'f/8', 'f8', 'F/5.6' or '5.6'. A number that is on none of the scales (a lens's own widest or smallest
 * stop, say f/3.8 or f/192) is taken to mean itself.
 * @param scale needed only for 1.2, 3.5 and 13, which both the half- and the third-stop scale have.
 * @throws ApertureError for text that is no aperture, and for those three without a scale.
 */
export function readAperture(text: string, scale?: ApertureScale): Aperture {
  const match = /^\s*(?:f\s*\/?\s*)?(\d{1,3}(?:\.\d{1,3})?)\s*$/i.exec(text);
  const marked = match === null ? Number.NaN : Number(match[1]);
  if (!(marked >= apertureBounds.min && marked <= apertureBounds.max))
    throw new ApertureError(
      `'${text}' is not an aperture; write it as f/8 or f/5.6, from f/${apertureBounds.min} to f/${apertureBounds.max}`,
    );
  return { marked, exactFNumber: exactFNumber(marked, scale) };
}

function exactFNumber(marked: number, scale: ApertureScale | undefined): number {
  const key = String(marked);
  const half = HALVES[key];
  const third = THIRDS[key];
  if (half !== undefined && third !== undefined && scale === undefined)
    throw new ApertureError(
      `f/${key} is a half stop on some lenses (exactly ${fromStops(half).toFixed(2)}) and a third on others ` +
        `(${fromStops(third).toFixed(2)}); say whether this lens is marked in halves or thirds`,
    );
  const stops = WHOLE[key] ?? (scale === 'thirds' ? (third ?? half) : (half ?? third));
  return stops === undefined ? marked : fromStops(stops);
}

/** The aperture that is so many whole stops further closed, as it is engraved where a scale has it. */
export function closedBy(aperture: Aperture, stops: number): Aperture {
  const exact = aperture.exactFNumber * fromStops(stops);
  const engraved = Object.entries({ ...THIRDS, ...HALVES, ...WHOLE }).find(
    ([, above]) => Math.abs(fromStops(above) / exact - 1) < SAME_MARKING,
  );
  return {
    marked: engraved === undefined ? Number(exact.toFixed(1)) : Number(engraved[0]),
    exactFNumber: exact,
  };
}

/** A thousandth: far less than lies between two markings. */
const SAME_MARKING = 0.001;

function fromStops(stops: number): number {
  return 2 ** (stops / 2);
}

/**
 * What an exposure time is multiplied by when the lens goes from `from` to `to`: (N2 / N1)^2.
 * Source: general optics (illuminance goes as 1 / N^2); US Navy NAVEDTRA 14209, chapter 11.
 */
export function apertureFactor(from: Aperture, to: Aperture): number {
  return (to.exactFNumber / from.exactFNumber) ** 2;
}

/** 'f/8', as engraved. */
export function apertureText({ marked }: Aperture): string {
  return `f/${marked}`;
}
