import { type Between, difference, exactly, leftToRise, times } from './exact.js';

/** The lamp's model from its definition (first-order rise and fall, own; see hardware-notes), in exact numbers. */
export interface LampFigures {
  readonly lagMs: number;
  readonly riseMs: number;
}

export class ExactLamp {
  readonly #riseUs: number;
  readonly #delayUs: number;
  readonly #fallUs: number;

  constructor({ lagMs, riseMs: measuredRiseMs }: LampFigures) {
    // An afterglow without a rise cannot be: such a rise counts as 1 ms.
    const riseMs = lagMs < 0 ? Math.max(1, measuredRiseMs) : measuredRiseMs;
    const delayMs = Math.max(0, lagMs - riseMs);
    this.#riseUs = riseMs * 1000;
    this.#delayUs = delayMs * 1000;
    this.#fallUs = (riseMs + delayMs - lagMs) * 1000;
  }

  /** In microseconds of full light: what a pulse of a cold lamp gives, its afterglow included. */
  doseUs(onUs: number): Between {
    return this.#integralUs(onUs, this.#riseUs - this.#fallUs);
  }

  /** The same for a lamp that is still on. */
  lightUs(onUs: number): Between {
    return this.#integralUs(onUs, this.#riseUs);
  }

  /** lit - shortfall x (1 - e^(-lit/rise)). */
  #integralUs(onUs: number, shortfallUs: number): Between {
    const litUs = onUs - this.#delayUs;
    if (litUs <= 0) return exactly(0);
    if (this.#riseUs === 0) return exactly(litUs);
    const risen = difference(exactly(1), leftToRise(litUs, this.#riseUs));
    const missing = times(risen, BigInt(Math.abs(shortfallUs)));
    return shortfallUs < 0
      ? difference(exactly(litUs), { low: -missing.high, high: -missing.low })
      : difference(exactly(litUs), missing);
  }
}
