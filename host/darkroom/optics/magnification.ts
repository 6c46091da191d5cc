import { InputError } from '../../errors.js';
/**
 * Size of the print against time of exposure, and where lens and paper stand.
 *
 * Magnification M is the print's side over the negative's. A thin lens of focal length f stands
 * u = f (1 + 1 / M) from the negative and v = f (1 + M) from the paper, so u + v = f (2 + M + 1 / M).
 * Source: Sinclair Handbook of Photography; Cyclopedia of Photography, 'Enlarging'.
 */
export const magnificationBounds = { min: 0.1, max: 60 } as const;

/** A size, distance or magnification that cannot be. `field` names it. */
export class MagnificationError extends InputError {
  override readonly name = 'MagnificationError';
  constructor(
    readonly field: string,
    message: string,
  ) {
    super(message);
  }
}

/**
 * What an exposure time is multiplied by when the magnification goes from `from` to `to`:
 * ((p + M2) / (p + M1))^2, with p = 1 the usual ((M2 + 1) / (M1 + 1))^2.
 * Source: Clerc, Photography: Theory and Practice; the pupil form from illuminance going as
 * 1 / (N (1 + M / p))^2.
 * @param pupilFactor paper-side pupil over negative-side pupil, 0.3 to 3; for a figure quoted as on a camera take 1 / p.
 * @throws MagnificationError outside the bounds.
 */
export function magnificationFactor(from: number, to: number, pupilFactor = 1): number {
  checkMagnification('from', from);
  checkMagnification('to', to);
  if (!(pupilFactor >= 0.3 && pupilFactor <= 3))
    throw new MagnificationError(
      'pupilFactor',
      `the pupil factor is ${pupilFactor}; it must be from 0.3 to 3`,
    );
  return ((pupilFactor + to) / (pupilFactor + from)) ** 2;
}

/** What the plain law of areas would say: (M2 / M1)^2. Fair only for prints far larger than the negative. */
export function areaFactor(from: number, to: number): number {
  return (to / from) ** 2;
}

export interface Distances {
  readonly negativeToLensMm: number;
  readonly lensToPaperMm: number;
  readonly negativeToPaperMm: number;
}

/** Thin lens: a real one stands a few millimetres off, which matters below about M = 2. */
export function distancesMm(focalLengthMm: number, magnification: number): Distances {
  checkMagnification('magnification', magnification);
  const negativeToLensMm = focalLengthMm * (1 + 1 / magnification);
  const lensToPaperMm = focalLengthMm * (1 + magnification);
  return { negativeToLensMm, lensToPaperMm, negativeToPaperMm: negativeToLensMm + lensToPaperMm };
}

/**
 * Magnification from the distance between negative and paper: M = (b + sqrt(b^2 - 4)) / 2 with
 * b = T / f - 2, the larger root (an enlargement).
 * @throws MagnificationError when the distance is under four focal lengths, where no sharp image exists.
 */
export function magnificationAtColumn(focalLengthMm: number, negativeToPaperMm: number): number {
  if (!(focalLengthMm >= 10 && focalLengthMm <= 1000))
    throw new MagnificationError(
      'focalLengthMm',
      `the focal length is ${focalLengthMm} mm; 10 to 1000 mm are allowed`,
    );
  if (!(negativeToPaperMm >= 4 * focalLengthMm))
    throw new MagnificationError(
      'columnHeightMm',
      `${negativeToPaperMm} mm from negative to paper is less than four focal lengths (${4 * focalLengthMm} mm), ` +
        'and no lens gives a sharp image there; measure from the negative, not from the lens',
    );
  const b = negativeToPaperMm / focalLengthMm - 2;
  return checkMagnification('columnHeightMm', (b + Math.sqrt(b * b - 4)) / 2);
}

function checkMagnification(field: string, magnification: number): number {
  if (magnification >= magnificationBounds.min && magnification <= magnificationBounds.max)
    return magnification;
  throw new MagnificationError(
    field,
    `a magnification of ${magnification} is outside ${magnificationBounds.min} to ${magnificationBounds.max}`,
  );
}
