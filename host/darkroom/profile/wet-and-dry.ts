import type { KeptStripReading } from './kept-reading.js';

type Patches = KeptStripReading['patches'];

/** Paper dries darker by some tenths of a stop at most: common practice, no source. */
const MOST_STOPS = 0.5;
/** What stays between the two scans of one strip is less, by a phone, too, and of two papers or filters of another range more: by trials, no source. */
const MOST_DENSITY = 0.06;
const STEP_STOPS = 0.01;
/** Nearer to black a wet surface is darker for what it reflects, not for its light. */
const DEEPEST = 1.2;

/** Whether two scans can be of one strip, dry and wet: its tones as less light makes them, alike for all patches. */
export function canBeOneStrip(dry: Patches, wet: Patches): boolean {
  const steps = Math.round(MOST_STOPS / STEP_STOPS);
  return Array.from({ length: 2 * steps + 1 }, (_, at) => (at - steps) * STEP_STOPS).some((stops) => {
    const off = wet.flatMap(({ doseMs, density }) => {
      const expected = densityOf(dry, Math.log2(doseMs) - stops);
      return expected === undefined || expected > DEEPEST ? [] : density - expected;
    });
    return off.length > 1 && Math.hypot(...off) / Math.sqrt(off.length) < MOST_DENSITY;
  });
}

/** Straight between the patches; undefined beside them. */
function densityOf(patches: Patches, logDose: number): number | undefined {
  const known = patches
    .map(({ doseMs, density }) => ({ log: Math.log2(doseMs), density }))
    .sort((one, other) => one.log - other.log);
  const above = known.findIndex(({ log }) => log >= logDose);
  if (above < 0) return undefined;
  const high = known[above]!;
  if (high.log === logDose) return high.density;
  if (above === 0) return undefined;
  const low = known[above - 1]!;
  return low.density + ((high.density - low.density) * (logDose - low.log)) / (high.log - low.log);
}
