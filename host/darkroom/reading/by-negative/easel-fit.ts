import { type EaselTie, easelLog, type FilmTones, usualEasel } from '../../light/film-light.js';
import type { ToneCell } from './tone-cells.js';
import { ToneCurve, type ToneSample } from './tone-curve.js';

export interface EaselFit {
  readonly tie: EaselTie;
  readonly curve: ToneCurve;
  readonly samples: readonly ToneSample[];
  /** Root mean square of what cells lie off the curve. */
  readonly miss: number;
}

/** What the fit supposes before it looks. */
export interface Supposed {
  readonly contrast: number;
  readonly flareShare: number;
}

/** One deviation of what a cell lies off the curve by, from evenness, dose and registration. */
const CELL_DOUBT = 0.03;
/** Cells of one patch err alike: so many count as one. */
const ALIKE_CELLS = 4;
const MOST_ROUNDS = 60;

/**
 * The tie under which equal light gave equal tones in all patches: each patch's light is known, so where two patches have the
 * same tone, their film must differ by as much as their light. What curve the paper has need not be known.
 */
export function fitEasel(
  cells: readonly ToneCell[],
  doseLogs: readonly number[],
  film: FilmTones,
  supposed: Supposed = usualEasel,
  start: EaselTie = supposed,
): EaselFit {
  const doubt = 1 / (ALIKE_CELLS * CELL_DOUBT ** 2);
  const costOf = (tie: EaselTie) => {
    const samples = samplesOf(cells, doseLogs, easelLog(tie, film));
    const byPrior =
      ((tie.contrast - supposed.contrast) / usualEasel.contrastSpread) ** 2 +
      ((tie.flareShare - supposed.flareShare) / usualEasel.flareSpread) ** 2;
    return new ToneCurve(samples).missOf(samples) * doubt + byPrior;
  };
  const tie = leastTie(costOf, start);
  const samples = samplesOf(cells, doseLogs, easelLog(tie, film));
  const curve = new ToneCurve(samples);
  return { tie, curve, samples, miss: missOf(samples, curve) };
}

export function samplesOf(
  cells: readonly ToneCell[],
  doseLogs: readonly number[],
  lightLog: (filmLog: number) => number,
): ToneSample[] {
  return cells.map(({ patch, filmLog, density, weight }) => ({
    log: doseLogs[patch]! + lightLog(filmLog),
    density,
    weight,
  }));
}

function missOf(samples: readonly ToneSample[], curve: ToneCurve): number {
  const total = samples.reduce((sum, { weight }) => sum + weight, 0);
  const squares = samples.reduce(
    (sum, { log, density, weight }) => sum + weight * (density - curve.at(log)) ** 2,
    0,
  );
  return Math.sqrt(squares / total);
}

/** Steps to the better side, halved where there is none. */
function leastTie(costOf: (tie: EaselTie) => number, start: EaselTie): EaselTie {
  let best = { tie: start, cost: costOf(start) };
  let steps = { contrast: 0.08, flareShare: 0.01 };
  for (let round = 0; round < MOST_ROUNDS && steps.contrast > FINEST_CONTRAST; round++) {
    const before = best;
    for (const key of ['contrast', 'flareShare'] as const)
      for (const sign of [-1, 1]) {
        const tie = { ...best.tie, [key]: Math.max(0, best.tie[key] + sign * steps[key]) };
        const cost = costOf(tie);
        if (cost < best.cost) best = { tie, cost };
      }
    if (best === before) steps = { contrast: steps.contrast / 2, flareShare: steps.flareShare / 2 };
  }
  return best.tie;
}
const FINEST_CONTRAST = 0.001;
