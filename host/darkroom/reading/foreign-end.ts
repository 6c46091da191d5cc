import type { PatchPlace } from './patch-tones.js';

/** By how much patches differ in width that a jig, or a careful hand, laid side by side. */
const EVEN = 0.08;
/** So much narrower or wider is no slip of that hand. */
const FOREIGN = 0.3;
const FEWEST_PATCHES = 4;

/**
 * True where the first place is of another width than all the others, which are even: then a lid or a border is taken for the
 * lightest patch, and every dose is one step off.
 */
export function hasForeignEnd(places: readonly PatchPlace[]): boolean {
  if (places.length < FEWEST_PATCHES) return false;
  const [first, ...others] = places.map(({ left, right }) => right - left);
  const usual = others.reduce((sum, width) => sum + width, 0) / others.length;
  const isOff = (width: number, share: number) => Math.abs(width / usual - 1) > share;
  return isOff(first!, FOREIGN) && !others.some((width) => isOff(width, EVEN));
}
