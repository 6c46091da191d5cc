import type { Random } from '../../../setup/random.js';

/** Sum of twelve: mean 0, deviation 1. */
export function normal(random: Random): number {
  let sum = -6;
  for (let at = 0; at < 12; at++) sum += random.share();
  return sum;
}
