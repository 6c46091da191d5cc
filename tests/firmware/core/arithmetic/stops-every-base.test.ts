import { beforeAll, describe, expect, it } from 'vitest';
import type { Core } from '../../../../host/core/generated/core-interface.js';
import { loadCore } from '../../../../host/recipe/planner/core.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { firstHit, isTimeRoundedHalfUp, powerOfTwoQ63 } from './exact-stops.js';

// The core multiplies by a table of 2^(k/120) with 63 fraction bits, rounded down. It could be wrong only where
// a half millisecond lies between base x table and base x 2^(k/120), which are less than base / 2^63 apart
// (before the octave's shift). So: is there such a base, among 3,600,000 bases and 2,401 offsets?

let core: Core;
beforeAll(() => {
  core = loadCore();
});

const table = Array.from({ length: limits.stopParts }, (_, k) => powerOfTwoQ63(k));
const longest = BigInt(limits.longestDoseMs);

interface FixedPoint {
  readonly factor: bigint;
  readonly modulus: bigint;
}

/** The fraction of base x 2^(n/120) is (factor x base mod modulus) / modulus; undefined for whole stops. */
function fixedPoint(stops120: number): FixedPoint | undefined {
  const octave = Math.floor(stops120 / limits.stopParts);
  const k = stops120 - octave * limits.stopParts;
  return k === 0 ? undefined : { factor: table[k]!, modulus: 1n << BigInt(63 - octave) };
}

const offsets = Array.from({ length: 2 * limits.offsetStops120 + 1 }, (_, i) => i - limits.offsetStops120);

/** The base with a dose of at most an hour that comes nearest to a half millisecond from below or from above. */
function hardestBase({ factor, modulus }: FixedPoint, side: 'below' | 'above'): number {
  const longestBase = (longest * modulus) / factor;
  const bound = longestBase < longest ? longestBase : longest;
  const hit = (distance: bigint) =>
    side === 'below'
      ? firstHit(factor, modulus, modulus / 2n - distance, modulus / 2n - 1n)
      : firstHit(factor, modulus, modulus / 2n, modulus / 2n + distance);
  let low = 1n;
  let high = modulus / 2n - 1n;
  while (low < high) {
    const distance = (low + high) / 2n;
    const base = hit(distance);
    if (base !== undefined && base <= bound) high = distance;
    else low = distance + 1n;
  }
  return Number(hit(low));
}

describe('time at an offset in stops', () => {
  // Source: the definition, computed exactly here.
  it('has room for no wrong rounding in any of 3,600,000 bases at any of 2,401 offsets', () => {
    for (const stops120 of offsets) {
      const point = fixedPoint(stops120);
      if (point === undefined) continue;
      const half = point.modulus / 2n;
      const base = firstHit(point.factor, point.modulus, half - longest, half - 1n);
      expect(base === undefined || base > longest, `a base near a tie at ${stops120}/120`).toBe(true);
    }
  });

  // Source: the definition, computed exactly here.
  it('is right at the two hardest bases of every offset, those nearest to a half millisecond', () => {
    let checked = 0;
    for (const stops120 of offsets) {
      const point = fixedPoint(stops120);
      if (point === undefined) continue;
      for (const side of ['below', 'above'] as const) {
        const base = hardestBase(point, side);
        const dose = core.timeAtFineStopsMs(base, stops120, 0);
        if (dose === -1) continue;
        checked += 1;
        expect(isTimeRoundedHalfUp(dose, base, stops120), `${base} ms at ${stops120}/120`).toBe(true);
        // Off a tie, what a dodge leaves is the time at its offset.
        if (stops120 < 0) expect(base - core.dodgeMs(base, -stops120, 0)).toBe(dose);
      }
    }
    expect(checked).toBeGreaterThan(4_000);
  });
});
