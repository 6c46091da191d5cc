import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  loadPlanner,
  PlanError,
  type StripPlan,
  type StripRequest,
} from '../../../../host/recipe/planner/index.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';
import { anyLamp, lampByDefinition } from '../lamp-by-definition.js';

const planner = loadPlanner();

const halfStops: StripRequest = { firstMs: 5_000, step: { stops120: 60 }, patches: 5, cover: 'cumulative' };
const equalSeconds: StripRequest = {
  firstMs: 5_000,
  step: { equalMs: 5_000 },
  patches: 5,
  cover: 'cumulative',
};

const totalsMs = (plan: StripPlan) => plan.patches.map((patch) => patch.doseMs);
const addedMs = (plan: StripPlan) => plan.exposures.map((exposure) => exposure.doseMs);

function refusal(request: StripRequest): PlanError {
  try {
    planner.planStrip(request);
  } catch (error) {
    if (error instanceof PlanError) return error;
    throw error;
  }
  throw new Error('the strip was planned');
}

describe('a cumulative strip', () => {
  // Source: first 5 s, half stops, computed from the definition, and the differences of the rounded totals.
  it('of five half stops from 5 s gives 5 to 20 s and adds what is missing', () => {
    const plan = planner.planStrip(halfStops);
    expect(totalsMs(plan)).toEqual([5_000, 7_071, 10_000, 14_142, 20_000]);
    expect(addedMs(plan)).toEqual([5_000, 2_071, 2_929, 4_142, 5_858]);
    expect(plan.patches.map((patch) => patch.stops120)).toEqual([0, 60, 120, 180, 240]);
    expect(plan.exposures.map((exposure) => exposure.onMs)).toEqual([5_000, 2_071, 2_929, 4_142, 5_858]);
  });

  // Source: 8 s in half and third stops, computed from the definition.
  it.each([
    [60, [8_000, 3_314, 4_686, 6_627, 9_373, 13_255, 18_745]],
    [40, [8_000, 2_079, 2_620, 3_301, 4_159, 5_239, 6_602]],
  ])('of seven patches from 8 s by %i/120 adds the known increments', (stops120, increments) => {
    const plan = planner.planStrip({ ...halfStops, firstMs: 8_000, step: { stops120 }, patches: 7 });
    expect(addedMs(plan)).toEqual(increments);
  });

  it('adds up to each patch within a millisecond of real light, for any lamp', () => {
    // Source: the lamp's definition (lamp-by-definition.ts); the strip that is asked for is the judge.
    fc.assert(
      fc.property(anyLamp(), anyStrip(), (lamp, strip) => {
        const plan = planIfPossible({ ...strip, cover: 'cumulative', lamp });
        if (plan === undefined) return;
        const { doseMs } = lampByDefinition(lamp);
        let givenMs = 0;
        plan.exposures.forEach(({ onMs }, index) => {
          givenMs += doseMs(onMs);
          expect(Math.abs(givenMs - plan.patches[index]!.doseMs)).toBeLessThan(1);
        });
      }),
      { seed, numRuns: 5_000 },
    );
  });

  it('makes up for the lag of the lamp in every single exposure', () => {
    // Source: for pulses long against the rise the dose is on-time less lag (the lamp's definition).
    const plan = planner.planStrip({ ...halfStops, lamp: { lagMs: 120, riseMs: 90 } });
    expect(plan.exposures.map((exposure) => exposure.onMs)).toEqual([5_120, 2_191, 3_049, 4_262, 5_978]);
  });
});

describe('a separate strip', () => {
  it('gives every patch its own whole exposure', () => {
    const plan = planner.planStrip({ ...halfStops, cover: 'separate' });
    expect(addedMs(plan)).toEqual(totalsMs(plan));
  });

  it('gives each patch its dose within a millisecond of real light, for any lamp', () => {
    // Source: the lamp's definition (lamp-by-definition.ts).
    fc.assert(
      fc.property(anyLamp(), anyStrip(), (lamp, strip) => {
        const plan = planIfPossible({ ...strip, cover: 'separate', lamp });
        plan?.exposures.forEach(({ onMs }, index) => {
          const givenMs = lampByDefinition(lamp).doseMs(onMs);
          expect(Math.abs(givenMs - plan.patches[index]!.doseMs)).toBeLessThan(1);
        });
      }),
      { seed, numRuns: 5_000 },
    );
  });
});

describe('a strip in equal seconds', () => {
  // Source: log2 of the ratios of 5, 10, 15, 20 and 25 s, computed.
  it('tells each step in stops', () => {
    const plan = planner.planStrip(equalSeconds);
    expect(totalsMs(plan)).toEqual([5_000, 10_000, 15_000, 20_000, 25_000]);
    expect(addedMs(plan)).toEqual([5_000, 5_000, 5_000, 5_000, 5_000]);
    expect(plan.patches.map((patch) => patch.stepStops1000)).toEqual([0, 1_000, 585, 415, 322]);
    expect(plan.patches.map((patch) => patch.stops120)).toEqual([0, 120, 190, 240, 279]);
    expect(plan.patches.map((patch) => patch.stops1000)).toEqual([0, 1_000, 1_585, 2_000, 2_322]);
  });
});

describe('a strip of the longest light', () => {
  const toAnHour: StripRequest = { ...equalSeconds, firstMs: 1_200_000, patches: 3 };

  it('goes up to an hour and not a millisecond further', () => {
    const plan = planner.planStrip({ ...toAnHour, step: { equalMs: 1_200_000 } });
    expect(totalsMs(plan)).toEqual([1_200_000, 2_400_000, limits.longestDoseMs]);
    const longer = refusal({ ...toAnHour, firstMs: 1_200_001, step: { equalMs: 1_200_000 } });
    expect(longer).toMatchObject({ fault: 'too-long', figures: { pass: 2 } });
  });
});

describe('a strip that cannot be', () => {
  it.each<[string, StripRequest, string, object]>([
    ['with a first time of nothing', { ...halfStops, firstMs: 0 }, 'base-out-of-range', { neededMs: 0 }],
    [
      'with a first time of a millisecond',
      { ...halfStops, firstMs: 1, cover: 'separate' },
      'below-lamp',
      { pass: 0, neededMs: 1 },
    ],
    ['with a first time of two hours', { ...halfStops, firstMs: 7_200_000 }, 'base-out-of-range', {}],
    ['with one patch', { ...halfStops, patches: 1 }, 'count-out-of-range', {}],
    ['with thirteen patches', { ...halfStops, patches: 13 }, 'count-out-of-range', {}],
    ['with no step', { ...halfStops, step: { stops120: 0 } }, 'stops-out-of-range', {}],
    ['with a step down', { ...halfStops, step: { stops120: -60 } }, 'stops-out-of-range', {}],
    ['with the least step down', { ...halfStops, step: { stops120: -1 } }, 'stops-out-of-range', {}],
    ['over more than ten stops', { ...halfStops, step: { stops120: 360 } }, 'stops-out-of-range', {}],
    [
      'with a patch of more than an hour',
      { ...halfStops, step: { stops120: 300 } },
      'too-long',
      { pass: 4, allowedMs: 3_600_000 },
    ],
    [
      'with a patch of more than an hour, in seconds',
      { ...equalSeconds, step: { equalMs: 1_000_000 } },
      'too-long',
      { pass: 4, allowedMs: 3_600_000 },
    ],
    [
      'with an exposure that the lamp cannot give',
      { ...halfStops, firstMs: 1_000, step: { stops120: 1 } },
      'below-lamp',
      { pass: 1, neededMs: 6, allowedMs: 40 },
    ],
  ])('%s is refused with its figures', (_, request, fault, figures) => {
    const error = refusal(request);
    expect(error.fault).toBe(fault);
    expect(error.figures).toMatchObject(figures);
  });

  it('is not cut to a whole number in silence', () => {
    expect(() => planner.planStrip({ ...halfStops, firstMs: 5_000.5 })).toThrow(/5000.5/);
  });

  it('with a lamp that no setting allows is refused in words', () => {
    const lamp = { lagMs: 2_000, riseMs: 0 };
    expect(() => planner.planStrip({ ...halfStops, lamp })).toThrow(/-500 to 1000/);
  });
});

function anyStrip() {
  return fc.record({
    firstMs: fc.integer({ min: 40, max: 60_000 }),
    step: fc.oneof(
      fc.record({ stops120: fc.integer({ min: 1, max: 240 }) }),
      fc.record({ equalMs: fc.integer({ min: 40, max: 60_000 }) }),
    ),
    patches: fc.integer({ min: 2, max: limits.stripPatches }),
  });
}

function planIfPossible(request: StripRequest): StripPlan | undefined {
  try {
    return planner.planStrip(request);
  } catch (error) {
    if (error instanceof PlanError) return undefined;
    throw error;
  }
}
