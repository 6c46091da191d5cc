import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { loadPlanner, type Planner } from '../../../../host/recipe/planner/index.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';

const planner = loadPlanner();
const kinds = ['base', 'burn', 'dodge'] as const;
type Kind = (typeof kinds)[number];

const given: Readonly<Record<Kind, Planner['burnMs']>> = {
  base: planner.timeAtStopsMs,
  burn: planner.burnMs,
  dodge: planner.dodgeMs,
};

/** base x 2^s, base x (2^s - 1), base x (1 - 2^s): the definitions, in floating point, good to far below a microsecond. */
function exactMs(kind: Kind, fromMs: number, stops120: number): number {
  const stops = (stops120 / limits.stopParts) * Math.LN2;
  return kind === 'base' ? fromMs * Math.exp(stops) : fromMs * Math.abs(Math.expm1(stops));
}

/** Short times as often as long ones. */
const time = () =>
  fc.double({ min: 0, max: Math.log(limits.longestDoseMs), noNaN: true }).map((x) => Math.round(Math.exp(x)));

describe('an offset with a fine part', () => {
  it('gives any wanted time of a pass, a burn or a dodge to 1 ms, wherever ten stops and an hour reach', () => {
    let found = 0;
    fc.assert(
      fc.property(fc.constantFrom(...kinds), time(), time(), (kind, fromMs, wantedMs) => {
        const stops120 = planner.offset120(kind, fromMs, wantedMs);
        const toMs = { base: wantedMs, burn: fromMs + wantedMs, dodge: fromMs - wantedMs }[kind];
        if (stops120 === undefined) {
          // Out of reach, or next to nothing of a long time.
          expect(toMs < 1 || Math.abs(Math.log2(toMs / fromMs)) > 9.99 || wantedMs < fromMs / 230).toBe(true);
          return;
        }
        found += 1;
        expect(Math.abs(given[kind](fromMs, stops120)! - wantedMs)).toBeLessThanOrEqual(1);
      }),
      { seed, numRuns: 20_000 },
    );
    expect(found).toBeGreaterThan(8_000);
  });

  it('is the definition, rounded half up, for any offset of the finest grain', () => {
    const stops3M = fc.integer({ min: 30_000, max: limits.offsetStops120 * limits.fineParts });
    fc.assert(
      fc.property(fc.constantFrom(...kinds), time(), stops3M, fc.boolean(), (kind, fromMs, parts, isLess) => {
        const sign = kind === 'dodge' || (kind === 'base' && isLess) ? -1 : 1;
        const stops120 = (sign * parts) / limits.fineParts;
        const wantedMs = exactMs(kind, fromMs, stops120);
        const doseMs = given[kind](fromMs, stops120);
        if (doseMs === undefined) expect(wantedMs < 0.51 || wantedMs > limits.longestDoseMs - 0.5).toBe(true);
        else expect(Math.abs(doseMs - wantedMs)).toBeLessThanOrEqual(0.5001);
      }),
      { seed, numRuns: 20_000 },
    );
  });

  // Source: log2(12 / 8) and log2(1 + 20 / 10), computed; the fractions that are exact stay what people write.
  it.each<[Kind, number, number, number]>([
    ['base', 8_000, 12_000, 0.584963],
    ['burn', 10_000, 20_000, 1.584963],
    ['dodge', 10_000, 3_000, -0.514573],
    ['base', 8_000, 10_079, 1 / 3],
    ['burn', 10_000, 4_142, 1 / 2],
    ['dodge', 10_000, 2_063, -1 / 3],
  ])('of a %s of %i ms that comes to %i ms is %d stop', (kind, fromMs, wantedMs, stops) => {
    const stops120 = planner.offset120(kind, fromMs, wantedMs)!;
    expect(stops120 / limits.stopParts).toBeCloseTo(stops, 9);
    expect(given[kind](fromMs, stops120)).toBe(wantedMs);
  });
});
