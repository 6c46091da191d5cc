import type { FilmTie } from '../../../recipe/film-tie.js';
import { easelLog } from '../../light/film-light.js';
import { DEVIATIONS, type Interval, LOG10_OF_STOP } from '../strip-figures.js';
import type { FiguresByNegative } from './figures-by-negative.js';

/** What is kept of a reading for this enlarger's other negatives; undefined where 0.60 is not on the strip. */
export function filmTieOf(figures: FiguresByNegative, filter: string): FilmTie | undefined {
  const { contrast, flareShare, pivot, pivotLog, film } = figures;
  if (pivot === undefined) return undefined;
  const tie = { contrast: contrast.value, flareShare: flareShare.value };
  const speedStops = pivot.value + easelLog(tie, film)(pivotLog) / LOG10_OF_STOP;
  return {
    contrast: rounded(tie.contrast),
    contrastSpread: rounded(spreadOf(contrast)),
    flareShare: rounded(tie.flareShare),
    flareSpread: rounded(spreadOf(flareShare)),
    filter,
    speedMs: rounded(2 ** speedStops),
    filmLog: rounded(pivotLog),
    meanLight: rounded(meanLight(film, tie.contrast)),
    lightSpreadStops: rounded(spreadOf(pivot)),
  };
}

function meanLight(film: ArrayLike<number>, contrast: number): number {
  let sum = 0;
  for (let at = 0; at < film.length; at++) sum += 10 ** (contrast * film[at]!);
  return sum / film.length;
}

/** One standard deviation about the value, which need not be in the middle. */
function spreadOf({ value, low, high }: Interval): number {
  return Math.hypot((high - low) / 2 / DEVIATIONS, value - (low + high) / 2);
}

function rounded(value: number): number {
  return Math.round(value * 10_000) / 10_000;
}
