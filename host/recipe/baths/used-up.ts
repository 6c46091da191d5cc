import type { Bath } from './bath.js';

/** What a bath's limit still leaves: 0 sheets when it is used up; undefined without a limit. */
export interface Left {
  readonly cm2: number;
  /** Whole sheets of `sheetCm2`. */
  readonly sheets: number;
  /** By how much the limit was passed. */
  readonly overCm2: number;
}

/** The board counts the area itself; this only compares it with the limit. */
export function leftOf({ limitCm2, areaCm2 }: Bath, sheetCm2: number): Left | undefined {
  if (limitCm2 === 0) return undefined;
  const cm2 = Math.max(0, limitCm2 - areaCm2);
  return { cm2, sheets: Math.floor(cm2 / sheetCm2), overCm2: Math.max(0, areaCm2 - limitCm2) };
}
