import { negativeBounds } from '../negative/negative.js';

/** Steps per unit of log exposure in the tables: an error of at most 0.002 in density, under one grey level. */
export const STEPS = 1024;
/** The tables span all that a sheet can see: dense film in a dark corner to bare bulb for an hour. */
const LOWEST_LOG = -10;
const HIGHEST_LOG = 6;
export const TABLE_LENGTH = (HIGHEST_LOG - LOWEST_LOG) * STEPS;
/** Less light than this, in log lux seconds at the easel, is none. */
const LOWEST_EASEL_LOG = LOWEST_LOG + negativeBounds.highestDensity + 0.5;
const HIGHEST_EASEL_LOG = HIGHEST_LOG - 0.5;

/** What a sheet makes of every log exposure; fog is light that fell everywhere besides. */
export function tableByLog(valueFor: (logExposure: number) => number, fogLuxSeconds: number): Float32Array {
  return Float32Array.from({ length: TABLE_LENGTH }, (_, index) => {
    const logExposure = LOWEST_LOG + (index + 0.5) / STEPS;
    return valueFor(fogLuxSeconds === 0 ? logExposure : Math.log10(10 ** logExposure + fogLuxSeconds));
  });
}

/** The place of light at the easel in such a table, before the negative is added. */
export function placeOfLight(luxSeconds: number): number {
  const kept = Math.min(HIGHEST_EASEL_LOG, Math.max(LOWEST_EASEL_LOG, Math.log10(luxSeconds)));
  return (kept - LOWEST_LOG) * STEPS;
}

/** How far the negative moves it. */
export function stepsOfLog(logTransmittance: number): number {
  return logTransmittance * STEPS;
}
