import { DEVIATIONS, type Interval, type StripFigures } from './strip-figures.js';

/**
 * What a lamp's start may take of each light, in milliseconds, one standard deviation about none: a lamp of 100 W has 90 % of its light
 * after 0.13 s (encyclopedia), and loses 0.056 s where it rises exponentially; larger ones lose more.
 */
const START_MS = 56;

/**
 * Where no board makes up for the lamp's start, a strip that is covered patch by patch loses one with each patch, and a print in one
 * light only the first: the print needs less time than the patch of its tone was told to have. A strip of one light to each patch loses
 * none, so figures stay and only their lower ends reach down. The range hardly changes, and is left.
 */
export function withPlainStarts(figures: StripFigures, dosesMs: readonly number[]): StripFigures {
  const lower = (time: Interval | undefined) => time && reachingDown(time, dosesMs);
  return {
    ...figures,
    base: lower(figures.base),
    white: lower(figures.white),
    black: lower(figures.black),
  };
}

function reachingDown({ value, low, high }: Interval, dosesMs: readonly number[]): Interval {
  const moreStarts = dosesMs.slice(1).filter((doseMs) => Math.log2(doseMs) <= value + HALF_A_STEP).length;
  const lostStops = (moreStarts * START_MS) / 2 ** value / Math.LN2;
  return { value, low: value - Math.hypot(value - low, DEVIATIONS * lostStops), high };
}
/** A tone between two patches is counted with the nearer one. */
const HALF_A_STEP = 0.25;
