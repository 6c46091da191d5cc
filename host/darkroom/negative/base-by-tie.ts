import type { FilmTie } from '../../recipe/film-tie.js';
import { easelLog, type FilmTones } from '../light/film-light.js';

/** log2 of milliseconds, and the ends between which it lies in 95 of 100 cases. */
export interface TiedBase {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

const LOG10_OF_STOP = Math.log10(2);
/** 95 of 100 of a normal distribution. */
const DEVIATIONS = 1.96;
/** One deviation of what differs from evening to evening, in stops: developer, lamp, paper (common practice, no source). */
const EVENING_STOPS = 0.04;
/** And from scan to scan of one scanner, in density. */
const SCAN_DENSITY = 0.01;

/**
 * The base that prints a place of any negative at 0.60 above white, before its first strip: on the enlarger as it stood for the
 * tie, its paper and filter, from a scan made as that one was.
 * @param film the tones of this negative. @param filmLog those of the place.
 */
export function baseByTie(tie: FilmTie, film: FilmTones, filmLog: number): TiedBase {
  const baseOf = (contrast: number, flareShare: number) =>
    (knownLog({ ...tie, contrast, flareShare }) - easelLog({ contrast, flareShare }, film)(filmLog)) /
    LOG10_OF_STOP;
  const value = Math.log2(tie.speedMs) - easelLog(tie, film)(filmLog) / LOG10_OF_STOP;
  const here = baseOf(tie.contrast, tie.flareShare);
  const deviation = Math.hypot(
    tie.lightSpreadStops,
    baseOf(tie.contrast + tie.contrastSpread, tie.flareShare) - here,
    baseOf(tie.contrast, tie.flareShare + tie.flareSpread) - here,
    EVENING_STOPS,
    (tie.contrast * SCAN_DENSITY) / LOG10_OF_STOP,
  );
  return { value, low: value - DEVIATIONS * deviation, high: value + DEVIATIONS * deviation };
}

/** Light of the place that the strip knew best; that stays, whatever contrast and flare are. */
function knownLog({ contrast, flareShare, filmLog, meanLight }: FilmTie): number {
  return Math.log10(10 ** (contrast * filmLog) + flareShare * meanLight);
}
