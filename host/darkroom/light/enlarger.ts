import { type Aperture, apertureFactor } from '../optics/aperture.js';
import { magnificationFactor } from '../optics/magnification.js';

/** An enlarger's light at the easel, as a light meter would read it with no negative in the carrier. */
export interface Enlarger {
  /** Lux at the easel, lens wide open, at `atMagnification`. */
  readonly luxWideOpen: number;
  readonly widest: Aperture;
  readonly atMagnification: number;
}

/**
 * Invented, of the usual kind: an f/2.8 lens, and so bright that the demonstration negative at 6 x takes about
 * 12.5 s at f/11 through filter 2.
 */
export const commonEnlarger: Enlarger = {
  luxWideOpen: 35,
  widest: { marked: 2.8, exactFNumber: 2 ** 1.5 },
  atMagnification: 6,
};

/** Lux seconds at the easel that print the demonstration negative well through a filter of P200 and R110. */
export const demoLuxSeconds = 27;

/** The enlarger on which `baseMs` at `setup` gives `luxSeconds`, whatever lamp that takes. */
export function enlargerThatSuits(
  setup: Setup,
  baseMs: number,
  luxSeconds: number = demoLuxSeconds,
  widest: Aperture = commonEnlarger.widest,
): Enlarger {
  const enlarger = { ...commonEnlarger, widest };
  const luxNow = easelLux(enlarger, setup);
  return { ...enlarger, luxWideOpen: (enlarger.luxWideOpen * luxSeconds) / (baseMs / 1000) / luxNow };
}

/** How the enlarger stands for one exposure. */
export interface Setup {
  readonly aperture: Aperture;
  readonly magnification: number;
}

/** Lux at the easel, no negative: less by (N2 / N1)^2 for the stop and ((M2 + 1) / (M1 + 1))^2 for the size. */
export function easelLux(enlarger: Enlarger, setup: Setup): number {
  const stopped = apertureFactor(enlarger.widest, setup.aperture);
  const spread = magnificationFactor(enlarger.atMagnification, setup.magnification);
  return enlarger.luxWideOpen / stopped / spread;
}

/** The setup after focusing when the lens was not stopped down again. */
export function leftWideOpen(enlarger: Enlarger, setup: Setup): Setup {
  return { ...setup, aperture: enlarger.widest };
}
