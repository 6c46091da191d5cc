import { InputError } from '../errors.js';
/** A print's or negative's two sides, whichever way round it lies. */
export interface PrintSize {
  readonly shortMm: number;
  readonly longMm: number;
}

export const sizeBounds = { minMm: 5, maxMm: 3000 } as const;

/** A size that cannot be read; the message says what would be. */
export class SizeError extends InputError {
  override readonly name = 'SizeError';
}

const MM_PER_UNIT: Record<string, number> = { mm: 1, cm: 10, in: 25.4 };

/** Reads '18x24cm', '24 x 36 mm' or '8x10in'; centimetres where no unit is given. @throws SizeError */
export function readPrintSize(text: string): PrintSize {
  const match = /^\s*(\d+(?:\.\d+)?)\s*[x×*]\s*(\d+(?:\.\d+)?)\s*(mm|cm|in)?\s*$/i.exec(text);
  const unitMm = MM_PER_UNIT[match?.[3]?.toLowerCase() ?? 'cm']!;
  const sidesMm = match === null ? [] : [Number(match[1]) * unitMm, Number(match[2]) * unitMm];
  const [shortMm, longMm] = sidesMm.sort((a, b) => a - b);
  if (
    shortMm === undefined ||
    longMm === undefined ||
    shortMm < sizeBounds.minMm ||
    longMm > sizeBounds.maxMm
  )
    throw new SizeError(
      `'${text}' is not a size; write it as 18x24cm, 24x36mm or 8x10in, sides from ${sizeBounds.minMm} mm to ${sizeBounds.maxMm / 1000} m`,
    );
  return { shortMm, longMm };
}

/** How much larger `to` is than `from` along each side. */
export function sideRatios(
  from: PrintSize,
  to: PrintSize,
): { readonly short: number; readonly long: number } {
  return { short: to.shortMm / from.shortMm, long: to.longMm / from.longMm };
}

export function sizeText({ shortMm, longMm }: PrintSize): string {
  const cm = (mm: number) => String(Math.round(mm) / 10);
  return `${cm(shortMm)} x ${cm(longMm)} cm`;
}
