import { settings } from '../../../shared-protocol/settings.js';
import type { Core } from '../../core/generated/core-interface.js';

/** What a lamp calibration finds: the light that each pulse loses, and the time constant of the lamp coming up. */
export interface Lamp {
  /** -500..1000. */
  readonly lagMs: number;
  /** 0..1000. */
  readonly riseMs: number;
}

/** A lamp that is light at once and dark at once: on-time is dose. */
export const idealLamp: Lamp = { lagMs: 0, riseMs: 0 };

/** Tells the core which lamp to calculate with. RangeError if the figures are not whole or out of range. */
export function useLamp(core: Core, lamp: Lamp): void {
  const fits = Number.isInteger(lamp.lagMs) && Number.isInteger(lamp.riseMs);
  if (fits && core.setLamp(lamp.lagMs, lamp.riseMs) !== 0) return;
  const lag = settings['lamp-lag-ms'];
  const rise = settings['lamp-rise-ms'];
  throw new RangeError(
    `a lamp's lag is ${lag.min} to ${lag.max} ms and its rise ${rise.min} to ${rise.max} ms, in whole milliseconds; ` +
      `given were ${lamp.lagMs} and ${lamp.riseMs}`,
  );
}
