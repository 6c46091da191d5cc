import type { Core } from '../../core/generated/core-interface.js';
import { startCalculator } from '../../core/load-core.js';

let loaded: Core | undefined;

/** The core as a calculator, loaded once. @throws CoreMissingError */
export function loadCore(): Core {
  loaded ??= startCalculator();
  return loaded;
}

/** A u32 of the core, which JavaScript is handed as if it had a sign. */
export function unsigned(value: number): number {
  return value >>> 0;
}

/** RangeError unless the core can take the numbers as they are: it would cut off fractions and wrap around. */
export function whole(...values: number[]): void {
  const odd = values.find((value) => !Number.isInteger(value) || Math.abs(value) > 0x7fff_ffff);
  if (odd !== undefined) throw new RangeError(`times and offsets are whole numbers, which ${odd} is not`);
}
