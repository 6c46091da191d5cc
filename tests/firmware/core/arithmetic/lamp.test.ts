import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Core } from '../../../../host/core/generated/core-interface.js';
import { loadCore, unsigned } from '../../../../host/recipe/planner/core.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { settings } from '../../../../shared-protocol/schema.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';
import { anyLamp, lampByDefinition } from '../lamp-by-definition.js';

let core: Core;
beforeAll(() => {
  core = loadCore();
});

const doseUs = (onUs: number) => unsigned(core.doseUs(onUs));
const onUsForDose = (wantedUs: number) => unsigned(core.onUsForDose(wantedUs));

function longTimeUs() {
  return fc.integer({ min: 0, max: limits.longestDoseMs * 1000 });
}

/** Where the lamp is still coming up, and everything is hardest. */
function shortTimeUs() {
  return fc.integer({ min: 0, max: 3_000_000 });
}

describe('the dose of a pulse', () => {
  it('is the model of a delayed first-order lamp, to the microsecond', () => {
    // Source: the definition, written down once more in lamp-by-definition.ts.
    fc.assert(
      fc.property(anyLamp(), fc.oneof(shortTimeUs(), longTimeUs()), (lamp, onUs) => {
        core.setLamp(lamp.lagMs, lamp.riseMs);
        const exactUs = lampByDefinition(lamp).doseMs(onUs / 1000) * 1000;
        expect(Math.abs(doseUs(onUs) - exactUs)).toBeLessThan(0.501);
      }),
      { seed, numRuns: 20_000 },
    );
  });

  // Source: light time = T - tau (1 - e^(-T/tau)) for a 100 W lamp whose light is at 90 per cent after 0.13 s
  // (encyclopedia, "Incandescent light bulb"), computed; tau 0.05646 s, here in whole milliseconds.
  it.each([
    [1, 0.94354],
    [2, 1.94354],
    [5, 4.94354],
    [10, 9.94354],
  ])('of %i s is %f s for a lamp that rises in 56 ms and does not glow after', (onS, doseS) => {
    core.setLamp(56, 56);
    expect(Math.abs(doseUs(onS * 1e6) / 1e6 - doseS)).toBeLessThan(0.0005);
  });

  // Source: n pulses against one differ by (n - 1) x dead time, computed: 5 x 2 s give 9.7177 s, one of 10 s 9.9435 s.
  it('shows why five times two seconds are not ten', () => {
    core.setLamp(56, 56);
    const lostUs = doseUs(10e6) - 5 * doseUs(2e6);
    expect(lostUs).toBe(4 * 56_000);
  });

  it('is nothing until the lamp lights', () => {
    // Source: the definition; lag 120 ms with a rise of 90 ms means a delay of 30 ms.
    core.setLamp(120, 90);
    expect(doseUs(30_000)).toBe(0);
    expect(doseUs(30_000 + 1_000)).toBeGreaterThan(0);
  });

  it('tends to the on-time less the lag', () => {
    // Source: the definition.
    core.setLamp(-200, 50);
    expect(doseUs(10_000_000)).toBe(10_200_000);
    core.setLamp(120, 90);
    expect(doseUs(10_000_000)).toBe(9_880_000);
  });

  it('takes an afterglow without a rise as a rise of 1 ms', () => {
    core.setLamp(-100, 0);
    const without = doseUs(2_500);
    core.setLamp(-100, 1);
    expect(doseUs(2_500)).toBe(without);
  });
});

describe('the pulse for a dose', () => {
  it('is the shortest that gives it', () => {
    // Source: the definition of an inverse; a microsecond less must give less.
    fc.assert(
      fc.property(anyLamp(), fc.oneof(shortTimeUs(), longTimeUs()), (lamp, wantedUs) => {
        core.setLamp(lamp.lagMs, lamp.riseMs);
        const onUs = onUsForDose(wantedUs);
        expect(doseUs(onUs)).toBeGreaterThanOrEqual(wantedUs);
        if (onUs > 0) expect(doseUs(onUs - 1)).toBeLessThan(wantedUs);
      }),
      { seed, numRuns: 20_000 },
    );
  });

  it('never shrinks when the dose grows by a microsecond', () => {
    fc.assert(
      fc.property(anyLamp(), shortTimeUs(), (lamp, wantedUs) => {
        core.setLamp(lamp.lagMs, lamp.riseMs);
        return onUsForDose(wantedUs + 1) >= onUsForDose(wantedUs);
      }),
      { seed, numRuns: 20_000 },
    );
  });

  it('gives the dose within a microsecond wherever the lamp can be depended on', () => {
    // A steep afterglow can give several microseconds of dose for one of relay time, but not that late.
    fc.assert(
      fc.property(anyLamp(), shortTimeUs(), (lamp, extraUs) => {
        core.setLamp(lamp.lagMs, lamp.riseMs);
        const wantedUs = core.minimumDoseMs() * 1000 + extraUs;
        expect(doseUs(onUsForDose(wantedUs)) - wantedUs).toBeLessThanOrEqual(5);
      }),
      { seed, numRuns: 5_000 },
    );
  });

  it('of an ideal lamp is the dose itself', () => {
    core.setLamp(0, 0);
    for (const us of [0, 1, 40_000, 3_600_000_000]) expect(onUsForDose(us)).toBe(us);
  });
});

describe('the least dose to depend on', () => {
  it('is what two rises and 40 ms of light give', () => {
    // Source: 1 - e^-2 = 0.865 of full light; relays scatter by up to 10 ms at either end (relay data sheets), so
    // by no more than half of 40 ms. Taking those as the bounds is common practice, no source.
    fc.assert(
      fc.property(anyLamp(), (lamp) => {
        core.setLamp(lamp.lagMs, lamp.riseMs);
        const { delayMs, riseMs, doseMs } = lampByDefinition(lamp);
        const exactMs = doseMs(delayMs + Math.max(40, 2 * riseMs));
        expect(core.minimumDoseMs()).toBeGreaterThanOrEqual(exactMs - 0.001);
        expect(core.minimumDoseMs()).toBeLessThan(exactMs + 1.001);
      }),
      { seed, numRuns: 2_000 },
    );
  });

  it('is 40 ms for an ideal lamp', () => {
    core.setLamp(0, 0);
    expect(core.minimumDoseMs()).toBe(40);
  });
});

describe("a lamp's figures", () => {
  it('have the ranges that the settings have', () => {
    const lag = settings['lamp-lag-ms'];
    const rise = settings['lamp-rise-ms'];
    expect([core.setLamp(lag.min, rise.min), core.setLamp(lag.max, rise.max)]).toEqual([1, 1]);
    for (const [lagMs, riseMs] of [
      [lag.min - 1, 0],
      [lag.max + 1, 0],
      [0, rise.min - 1],
      [0, rise.max + 1],
    ] as const) {
      expect(core.setLamp(lagMs, riseMs), `${lagMs} and ${riseMs}`).toBe(0);
    }
  });

  it('stay as they were when refused', () => {
    core.setLamp(100, 0);
    core.setLamp(5_000, 0);
    expect(onUsForDose(1_000_000)).toBe(1_100_000);
  });
});
