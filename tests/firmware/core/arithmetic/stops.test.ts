import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Core } from '../../../../host/core/generated/core-interface.js';
import { loadCore } from '../../../../host/recipe/planner/core.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';
import { isTimeRoundedHalfUp } from './exact-stops.js';

let core: Core;
beforeAll(() => {
  core = loadCore();
});

const NO_DOSE = -1;
const anyBase = () => fc.integer({ min: 1, max: limits.longestDoseMs });
const anyOffset = () => fc.integer({ min: -limits.offsetStops120, max: limits.offsetStops120 });

describe('time at an offset in stops', () => {
  it('is base x 2^(n/120), rounded half up once, for any base and offset', () => {
    // Source: the definition, in whole numbers without end (exact-stops.ts).
    fc.assert(
      fc.property(anyBase(), anyOffset(), (base, stops120) => {
        const dose = core.timeAtFineStopsMs(base, stops120, 0);
        if (dose !== NO_DOSE) return isTimeRoundedHalfUp(dose, base, stops120);
        const exact = base * 2 ** (stops120 / limits.stopParts);
        return exact < 0.5 || exact >= limits.longestDoseMs + 0.5;
      }),
      { seed, numRuns: 20_000 },
    );
  });

  // Source: the fractional powers of two computed from their definition.
  it.each([
    [8_000, 60, [8_000, 11_314, 16_000, 22_627, 32_000, 45_255, 64_000]],
    [8_000, 40, [8_000, 10_079, 12_699, 16_000, 20_159, 25_398, 32_000]],
    [10_000, 40, [10_000, 12_599, 15_874, 20_000, 25_198, 31_748, 40_000]],
    // Doubling series: Clerc, Photography: Theory and Practice, sec. 553.
    [2_000, 120, [2_000, 4_000, 8_000, 16_000, 32_000]],
  ])('from %i ms by %i/120 goes up as the handbooks print it', (base, step, times) => {
    expect(times.map((_, k) => core.timeAtFineStopsMs(base, step * k, 0))).toEqual(times);
  });

  // Source: the third-, quarter-, sixth- and twelfth-stop factors from their definition; the quarter stop as
  // x 1.19 in Buffaloe, "Test Exposures in Printing".
  it.each([
    [60, 1_414_214, 707_107],
    [40, 1_259_921, 793_701],
    [30, 1_189_207, 840_896],
    [20, 1_122_462, 890_899],
    [10, 1_059_463, 943_874],
  ])('%i/120 up and down multiply by the known factors', (stops120, up, down) => {
    expect(core.timeAtFineStopsMs(1_000_000, stops120, 0)).toBe(up);
    expect(core.timeAtFineStopsMs(1_000_000, -stops120, 0)).toBe(down);
  });

  it('rounds a half millisecond up', () => {
    // Source: the definition; half of 10,001 is the only kind of exact tie there is.
    expect(core.timeAtFineStopsMs(10_001, -120, 0)).toBe(5_001);
  });

  it('has no answer below 1 ms, above an hour, or beyond ten stops', () => {
    expect(core.timeAtFineStopsMs(1, -121, 0)).toBe(NO_DOSE);
    expect(core.timeAtFineStopsMs(1, -120, 0)).toBe(1);
    expect(core.timeAtFineStopsMs(1_800_000, 120, 0)).toBe(3_600_000);
    expect(core.timeAtFineStopsMs(1_800_001, 120, 0)).toBe(NO_DOSE);
    expect(core.timeAtFineStopsMs(3_600_000, 1_200, 0)).toBe(NO_DOSE);
    expect(core.timeAtFineStopsMs(10_000, 1_201, 0)).toBe(NO_DOSE);
    expect(core.timeAtFineStopsMs(10_000, -1_201, 0)).toBe(NO_DOSE);
  });

  it.each([0, -1, 3_600_001, 2 ** 31 - 1, -(2 ** 31)])('refuses %i ms as a base', (base) => {
    expect(core.timeAtFineStopsMs(base, 0, 0)).toBe(NO_DOSE);
    expect(core.burnMs(base, 120, 0)).toBe(NO_DOSE);
    expect(core.dodgeMs(base, 120, 0)).toBe(NO_DOSE);
  });
});

describe('burning in and holding back', () => {
  // Source: base x (2^s - 1) and base x (1 - 2^-s) on 10 s, computed from the definition.
  it.each([
    [20, 1_225, 1_091],
    [30, 1_892, 1_591],
    [40, 2_599, 2_063],
    [60, 4_142, 2_929],
    [80, 5_874, 3_700],
    [120, 10_000, 5_000],
    [180, 18_284, 6_464],
    [240, 30_000, 7_500],
  ])('by %i/120 on 10 s adds %i ms and holds back %i ms', (stops120, added, heldBack) => {
    expect(core.burnMs(10_000, stops120, 0)).toBe(added);
    expect(core.dodgeMs(10_000, stops120, 0)).toBe(heldBack);
  });

  it('both round half up', () => {
    // Source: the definition. A dodge of one stop on 10,001 ms holds back 5000.5 ms.
    expect(core.dodgeMs(10_001, 120, 0)).toBe(5_001);
    expect(core.burnMs(10_001, 120, 0)).toBe(10_001);
  });

  it('never differ by more than a half millisecond from what they are', () => {
    // Source: the definition in floating point, good to far below a microsecond here.
    fc.assert(
      fc.property(anyBase(), fc.integer({ min: 1, max: 1_200 }), (base, stops120) => {
        const heldBack = core.dodgeMs(base, stops120, 0);
        const exactDodge = base * (1 - 2 ** (-stops120 / 120));
        if (heldBack === NO_DOSE) expect(exactDodge).toBeLessThan(0.5);
        else expect(Math.abs(heldBack - exactDodge)).toBeLessThanOrEqual(0.500001);
        const added = core.burnMs(base, stops120, 0);
        const exactBurn = base * (2 ** (stops120 / 120) - 1);
        if (added === NO_DOSE) expect(exactBurn < 0.5 || exactBurn >= limits.longestDoseMs + 0.4).toBe(true);
        else expect(Math.abs(added - exactBurn)).toBeLessThanOrEqual(0.500001);
      }),
      { seed, numRuns: 5_000 },
    );
  });

  // Source: the definition; a dodge of this size on a minute is a third of a second.
  it.each([1_000, 60_000, 3_600_000])('go down to one part of a stop, on %i ms', (base) => {
    expect(core.burnMs(base, 1, 0)).toBe(Math.round(base * (2 ** (1 / 120) - 1)));
    expect(core.dodgeMs(base, 1, 0)).toBe(Math.round(base * (1 - 2 ** (-1 / 120))));
  });

  it('may add an hour to an hour', () => {
    expect(core.burnMs(3_600_000, 120, 0)).toBe(3_600_000);
  });

  it.each([0, -60, 1_201])('refuse %i/120', (stops120) => {
    expect(core.burnMs(10_000, stops120, 0)).toBe(NO_DOSE);
    expect(core.dodgeMs(10_000, stops120, 0)).toBe(NO_DOSE);
  });
});

describe('stops between two times', () => {
  // Source: 5 to 30 s by 5 s, computed as log2 of the ratios.
  it('tells equal seconds as 1, 0.585, 0.415, 0.322 and 0.263 stop', () => {
    const steps = [1, 2, 3, 4, 5].map((k) => core.stopsBetween(5_000 * k, 5_000 * (k + 1), 1000));
    expect(steps).toEqual([1_000, 585, 415, 322, 263]);
  });

  // Source: +3 s is one stop at 3 s but about 1/8 stop at 30 s: Buffaloe, "Test Exposures in Printing".
  it('tells three seconds more at 3 s and at 30 s', () => {
    expect(core.stopsBetween(3_000, 6_000, 1000)).toBe(1_000);
    expect(core.stopsBetween(30_000, 33_000, 1000)).toBe(138);
  });

  // Source: base 10 s, 3 s dodge, 8 s burn from US Army correspondence course SS0509-8, lesson 2; stops computed.
  it('tells a plan in seconds as stops', () => {
    expect(core.stopsBetween(10_000, 7_000, 1000)).toBe(-515);
    expect(core.stopsBetween(10_000, 18_000, 1000)).toBe(848);
  });

  // Source: less exposure for dry-down in stops, log2(1 - d), computed.
  it.each([
    [940, -89],
    [920, -120],
    [900, -152],
    [880, -184],
  ])('tells %i/1000 of the light', (left, stops1000) => {
    expect(core.stopsBetween(1_000_000, left * 1_000, 1000)).toBe(stops1000);
  });

  it('goes back from a time to the offset it came from, wherever milliseconds are fine enough', () => {
    // Source: stopsBetween120 is the inverse of time(n); above 1 s a millisecond is less than 1/120 stop.
    fc.assert(
      fc.property(fc.integer({ min: 1_000, max: 60_000 }), fc.integer({ min: 0, max: 600 }), (base, n) => {
        const time = core.timeAtFineStopsMs(base, n, 0);
        return core.stopsBetween(base, time, 120) === n && core.stopsBetween(time, base, 120) === -n;
      }),
      { seed },
    );
  });

  it('is right to the last digit for any two times', () => {
    // Source: Math.log2, which is good to 10^-15; times whose logarithm is that near a tie do not exist here.
    fc.assert(
      fc.property(anyBase(), anyBase(), (from, to) => {
        const stops = Math.log2(to / from);
        expect(core.stopsBetween(from, to, 100)).toBeCloseTo(Math.floor(stops * 100 + 0.5), 9);
        expect(core.stopsBetween(from, to, 1000)).toBeCloseTo(Math.floor(stops * 1_000 + 0.5), 9);
        expect(core.stopsBetween(from, to, 120)).toBeCloseTo(Math.floor(stops * 120 + 0.5), 9);
      }),
      { seed, numRuns: 20_000 },
    );
  });
});
