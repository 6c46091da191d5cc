import fc from 'fast-check';
import { settings } from '../../../shared-protocol/schema.js';

/**
 * The lamp's model written down once more from its definition, in milliseconds and real numbers, so that the
 * core's microseconds have something to be held against. Source: first-order rise and fall; lag and rise as
 * measured, delay = max(0, lag - rise), fall = rise + delay - lag.
 */
export interface LampFigures {
  readonly lagMs: number;
  readonly riseMs: number;
}

export interface LampByDefinition {
  readonly delayMs: number;
  readonly riseMs: number;
  readonly fallMs: number;
  /** Dose of a pulse, in milliseconds of full light, its afterglow included. */
  doseMs(onMs: number): number;
  /** What the lamp has given `onMs` after switching on, still burning. */
  lightMs(onMs: number): number;
}

export function lampByDefinition({ lagMs, riseMs: measuredRiseMs }: LampFigures): LampByDefinition {
  // An afterglow without a rise cannot be: the core counts such a rise as 1 ms.
  const riseMs = lagMs < 0 && measuredRiseMs === 0 ? 1 : measuredRiseMs;
  const delayMs = Math.max(0, lagMs - riseMs);
  const fallMs = riseMs + delayMs - lagMs;
  const integral = (onMs: number, shortfallMs: number) => {
    const litMs = onMs - delayMs;
    if (litMs <= 0) return 0;
    return riseMs === 0 ? litMs : litMs + shortfallMs * Math.expm1(-litMs / riseMs);
  };
  return {
    delayMs,
    riseMs,
    fallMs,
    doseMs: (onMs) => integral(onMs, riseMs - fallMs),
    lightMs: (onMs) => integral(onMs, riseMs),
  };
}

/** Any lamp that the settings allow; often at the ends of the ranges. */
export function anyLamp(): fc.Arbitrary<LampFigures> {
  const lag = settings['lamp-lag-ms'];
  const rise = settings['lamp-rise-ms'];
  return fc.record({
    lagMs: fc.integer({ min: lag.min, max: lag.max }),
    riseMs: fc.oneof(
      fc.integer({ min: rise.min, max: rise.max }),
      fc.constantFrom(rise.min, 1, 2, 20, 21, rise.max),
    ),
  });
}
