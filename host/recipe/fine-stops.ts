/**
 * Offsets in 1/120 stop that came of a time are not whole: they have as many decimals as the core has for them, 25,000 parts
 * of each. The line and the flash have the whole ones, which every version reads, and the rest beside them.
 */
import { limits } from '../../shared-protocol/limits.js';

const PARTS = limits.fineParts;

/** In 1/3,000,000 stop. */
export function toStops3M(stops120: number): number {
  return Math.round(stops120 * PARTS);
}

/** One number for each offset, however it was reckoned, so that equal ones compare as equal. */
export function fromStops3M(stops3M: number): number {
  return stops3M / PARTS + 0; // no negative zero
}

export interface FineStops {
  readonly stops120: number;
  readonly fine3M: number;
}

/** The nearest whole 1/120 stop, away from zero in the middle, and what is left of it. */
export function splitStops(offset120: number): FineStops {
  const stops3M = toStops3M(offset120);
  const stops120 = Math.sign(stops3M) * Math.round(Math.abs(stops3M) / PARTS) + 0;
  return { stops120, fine3M: stops3M - stops120 * PARTS };
}

export function joinStops({ stops120, fine3M }: FineStops): number {
  return fromStops3M(stops120 * PARTS + fine3M);
}

/** The knob turns whole ones, and what the offset has beyond them stays. */
export function withWholeStops(offset120: number, stops120: number): number {
  return joinStops({ ...splitStops(offset120), stops120 });
}
