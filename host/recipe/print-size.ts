import { InputError } from '../errors.js';
/** A print's or negative's two sides, whichever way round it lies. */
export interface PrintSize {
  readonly shortMm: number;
  readonly longMm: number;
  /** As it was written, for words about it; left out, centimetres. */
  readonly unit?: Unit;
}

type Unit = 'mm' | 'cm' | 'in';

export const sizeBounds = { minMm: 5, maxMm: 3000 } as const;

/** A size that cannot be read; the message says what would be. */
export class SizeError extends InputError {
  override readonly name = 'SizeError';
}

const MM_PER_UNIT: Record<Unit, number> = { mm: 1, cm: 10, in: 25.4 };
const NUMBER = '(\\d+(?:\\.\\d+)?)';
const UNIT = '(mm|cm|in|inch|inches|"|\u2033)?';
const SIZE = new RegExp(`^\\s*${NUMBER}\\s*${UNIT}\\s*[x×*]\\s*${NUMBER}\\s*${UNIT}\\s*$`, 'i');

/**
 * Reads '18x24cm', '24 x 36 mm', '8x10in' or '8x10"'. The unit is not guessed: 8 x 10 is a common paper in inches and
 * a negative's size in centimetres, and the times that follow differ.
 * @throws SizeError
 */
export function readPrintSize(text: string): PrintSize {
  const [whole, one, unitOfOne, other, lastUnit] = SIZE.exec(text) ?? [];
  if (whole === undefined) throw noSize(text);
  if (lastUnit === undefined)
    throw new SizeError(
      `'${text}' does not say its unit; write ${['in', 'cm', 'mm'].map((unit) => `${one}x${other}${unit}`).join(', ')}`,
    );
  const unit = unitNamed(lastUnit);
  const sidesMm = [
    Number(one) * MM_PER_UNIT[unitOfOne === undefined ? unit : unitNamed(unitOfOne)],
    Number(other) * MM_PER_UNIT[unit],
  ];
  const [shortMm, longMm] = sidesMm.sort((a, b) => a - b) as [number, number];
  if (shortMm < sizeBounds.minMm || longMm > sizeBounds.maxMm) throw noSize(text);
  return { shortMm, longMm, unit };
}

function unitNamed(text: string): Unit {
  const small = text.toLowerCase();
  return small === 'mm' || small === 'cm' ? small : 'in';
}

function noSize(text: string): SizeError {
  return new SizeError(
    `'${text}' is not a size; write it as 18x24cm, 24x36mm or 8x10in, sides from ${sizeBounds.minMm} mm to ${sizeBounds.maxMm / 1000} m`,
  );
}

/** How much larger `to` is than `from` along each side. */
export function sideRatios(
  from: PrintSize,
  to: PrintSize,
): { readonly short: number; readonly long: number } {
  return { short: to.shortMm / from.shortMm, long: to.longMm / from.longMm };
}

/** '8 x 10 in', in the unit that it was written in. */
export function sizeText({ shortMm, longMm, unit = 'cm' }: PrintSize): string {
  const side = (mm: number) => String(Number((mm / MM_PER_UNIT[unit]).toFixed(2)));
  return `${side(shortMm)} x ${side(longMm)} ${unit}`;
}
