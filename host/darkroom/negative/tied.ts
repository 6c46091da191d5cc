import type { FilmTie } from '../../recipe/film-tie.js';
import { easelLog } from '../light/film-light.js';
import { densestCode, type Negative } from './negative.js';

/** A picture's tones need not be counted one by one. */
const MOST_SAMPLES = 20_000;

/** The negative as the enlarger shows it, by what a strip told: its contrast there, and stray light over it. */
export function tied(negative: Negative, tie: FilmTie | undefined): Negative {
  if (tie === undefined) return negative;
  const lightLog = easelLog(tie, filmTones(negative));
  return { ...negative, logTransmittance: negative.logTransmittance.map(lightLog), tie };
}

/** log10 of the transmittance of some of its places, without what lies beyond the film. */
export function filmTones({ samples, logTransmittance, beyondFilm = 0 }: Negative): Float32Array {
  const stride = Math.max(1, Math.floor(samples.length / MOST_SAMPLES));
  const beyond = beyondFilm > 0 ? densestCode(logTransmittance) : -1;
  const some: number[] = [];
  for (let at = 0; at < samples.length; at += stride)
    if (samples[at] !== beyond) some.push(logTransmittance[samples[at]!]!);
  return Float32Array.from(some);
}
