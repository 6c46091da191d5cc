import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type LampBehaviour,
  LampError,
  LampTrace,
  lampFromLagAndRise,
  type RelayEdge,
} from '../../../host/darkroom/light/lamp.js';

const pulses = (...edgesMs: number[]): RelayEdge[] =>
  edgesMs.map((atMs, index) => ({ atUs: atMs * 1000, on: index % 2 === 0 }));

/** The same equation by Heun's method in steps of `stepMs`: a check of the closed form by brute force. */
function steppedLightMs(lamp: LampBehaviour, edges: readonly RelayEdge[], untilMs: number, stepMs = 0.05) {
  let brightness = 0;
  let lightMs = 0;
  for (let atMs = 0; atMs < untilMs; atMs += stepMs) {
    const driven = isDriven(lamp, edges, atMs + stepMs / 2);
    const slope = (b: number) => (driven ? (1 - b) / lamp.riseMs : -b / lamp.fallMs);
    const first = slope(brightness);
    const next = brightness + (stepMs * (first + slope(brightness + stepMs * first))) / 2;
    lightMs += ((brightness + next) * stepMs) / 2;
    brightness = next;
  }
  return lightMs;
}

function isDriven(lamp: LampBehaviour, edges: readonly RelayEdge[], atMs: number): boolean {
  for (let index = 0; index < edges.length; index += 2) {
    const onMs = edges[index]!.atUs / 1000 + lamp.delayMs;
    const offMs = (edges[index + 1]?.atUs ?? Number.POSITIVE_INFINITY) / 1000;
    if (atMs >= onMs && atMs < offMs) return true;
  }
  return false;
}

describe('the lamp of the virtual darkroom', () => {
  it('gives exactly the on-time when it has neither delay, rise nor fall', () => {
    const trace = new LampTrace({ delayMs: 0, riseMs: 0, fallMs: 0 }, pulses(100, 1100, 2000, 2500));
    expect(trace.lightMs(0, Number.POSITIVE_INFINITY)).toBeCloseTo(1500, 9);
    expect(trace.lightMs(600, 2_250_000)).toBeCloseTo(1250, 9);
  });

  // Source: lamp figures (90 % of the light at 0.13 s) of an encyclopaedia's 'Incandescent light bulb';
  // 0.13 / ln 10 = 0.05646 s; the deficit follows from the first-order equation.
  it.each([
    [1, 0.94354],
    [2, 1.94354],
    [5, 4.94354],
    [10, 9.94354],
  ])('gives a 100 W lamp of 56 ms rise %d s of current and %d s of light while it is on', (onS, lightS) => {
    const lamp = { delayMs: 0, riseMs: 130 / Math.LN10, fallMs: 0 };
    const trace = new LampTrace(lamp, pulses(0, onS * 1000));
    expect(trace.lightMs(0, Number.POSITIVE_INFINITY) / 1000).toBeCloseTo(lightS, 4);
  });

  it('reaches 90 % of its brightness at ln 10 rise times, and 10 % after as many fall times', () => {
    const trace = new LampTrace({ delayMs: 0, riseMs: 100, fallMs: 60 }, pulses(0, 5000));
    expect(trace.brightnessAt(100_000 * Math.LN10)).toBeCloseTo(0.9, 9);
    expect(trace.brightnessAt(5_000_000 + 60_000 * Math.LN10)).toBeCloseTo(0.1, 9);
  });

  it('never lights for a pulse that is shorter than the delay', () => {
    const trace = new LampTrace({ delayMs: 50, riseMs: 80, fallMs: 80 }, pulses(0, 49));
    expect(trace.lightMs(0, Number.POSITIVE_INFINITY)).toBe(0);
  });

  it('starts warmer, and so gives more, when a slow-rising lamp has not gone cold', () => {
    const lamp = { delayMs: 0, riseMs: 200, fallMs: 100 };
    const soonAfter = new LampTrace(lamp, pulses(0, 2000, 2050, 4050)).lightMs(0, Number.POSITIVE_INFINITY);
    const longAfter = new LampTrace(lamp, pulses(0, 2000, 9000, 11000)).lightMs(0, Number.POSITIVE_INFINITY);
    // The residue e^(-50/100) of brightness is worth rise - fall for each unit of it.
    expect(soonAfter - longAfter).toBeCloseTo(Math.exp(-0.5) * 100, 1);
  });

  it('agrees with the same equation stepped numerically, for any lamp and any three pulses', () => {
    const span = fc.integer({ min: 5, max: 400 });
    fc.assert(
      fc.property(
        fc.record({
          delayMs: fc.integer({ min: 0, max: 200 }),
          riseMs: fc.integer({ min: 10, max: 250 }),
          fallMs: fc.integer({ min: 10, max: 250 }),
        }),
        fc.tuple(span, span, span, span, span, span),
        (lamp, spans) => {
          let atMs = 0;
          const edges = pulses(...spans.map((spanMs) => (atMs += spanMs)));
          const exact = new LampTrace(lamp, edges).lightMs(0, atMs * 1000 + 300_000);
          expect(exact).toBeCloseTo(steppedLightMs(lamp, edges, atMs + 300), 1);
        },
      ),
      { numRuns: 40, seed: 20270305 },
    );
  });

  it('loses exactly the lag that was measured, in every exposure that is long', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 400 }), fc.integer({ min: 0, max: 250 }), (lagMs, riseMs) => {
        const lamp = lampFromLagAndRise(lagMs, riseMs);
        const light = new LampTrace(lamp, pulses(0, 30_000)).lightMs(0, Number.POSITIVE_INFINITY);
        expect(light).toBeCloseTo(30_000 - lagMs, 6);
      }),
      { seed: 20270305 },
    );
  });

  it.each([
    ['a negative rise', { delayMs: 0, riseMs: -1, fallMs: 0 }, pulses(0, 1), 'riseMs'],
    ['a fall that is not a number', { delayMs: 0, riseMs: 0, fallMs: Number.NaN }, pulses(0, 1), 'fallMs'],
    ['edges out of order', { delayMs: 0, riseMs: 0, fallMs: 0 }, pulses(5, 1), 'edges'],
    [
      'two ons in a row',
      { delayMs: 0, riseMs: 0, fallMs: 0 },
      [
        { atUs: 0, on: true },
        { atUs: 1, on: true },
      ],
      'edges',
    ],
  ] as const)('refuses %s and names the field', (_what, lamp, edges, field) => {
    let refusal: unknown;
    try {
      new LampTrace(lamp, edges);
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(LampError);
    expect((refusal as LampError).field).toBe(field);
  });
});
