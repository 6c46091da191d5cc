import type { FilmTones } from '../../light/film-light.js';
import { usualEasel } from '../../light/film-light.js';
import type { ErrorBudget } from '../error-budget.js';
import { LOG10_OF_STOP } from '../strip-figures.js';
import type { Supposed } from './easel-fit.js';
import type { ToneCell } from './tone-cells.js';

export interface CellsRead {
  readonly cells: readonly ToneCell[];
  readonly doseLogs: readonly number[];
  readonly film: FilmTones;
  /** log10 of the transmittance of the place that the base is for. */
  readonly spotLog: number;
}

/** What the reading would have been fitted to, had one error been there. */
export interface Shift {
  readonly read: CellsRead;
  readonly supposed: Supposed;
}

/** All as one error of what is supposed of enlargers, one standard deviation of it, would have shown it. */
export function shiftsOfEasel(read: CellsRead): Shift[] {
  const { contrast, contrastSpread, flareShare, flareSpread } = usualEasel;
  return [
    { read, supposed: { ...usualEasel, contrast: contrast + contrastSpread } },
    { read, supposed: { ...usualEasel, flareShare: flareShare + flareSpread } },
  ];
}

/** The same of the strip's patches, their light, and its places. */
export function shiftsOfStrip(read: CellsRead, budget: ErrorBudget, miss: number): Shift[] {
  const patchDensity = Math.hypot(PATCH_DENSITY, PATCH_SHARE_OF_MISS * miss, budget.evennessDensity);
  const { cells, doseLogs } = read;
  const byPatch = doseLogs.flatMap((_, patch): Shift[] => [
    {
      read: {
        ...read,
        cells: cells.map((cell) =>
          cell.patch === patch ? { ...cell, density: cell.density + patchDensity } : cell,
        ),
      },
      supposed: usualEasel,
    },
    {
      read: {
        ...read,
        doseLogs: doseLogs.map((log, at) => (at === patch ? log + budget.doseStops * LOG10_OF_STOP : log)),
      },
      supposed: usualEasel,
    },
  ]);
  const byNoise = [1, 2].map(
    (turn): Shift => ({
      read: {
        ...read,
        cells: cells.map((cell, at) => ({ ...cell, density: cell.density + signOf(at, turn) * cell.noise })),
      },
      supposed: usualEasel,
    }),
  );
  return [...byPatch, ...byNoise];
}
/** What the tones of one patch lie off by together, in density: uneven light, and a little of its neighbours. */
export const PATCH_DENSITY = 0.004;
export const PATCH_SHARE_OF_MISS = 0.6;

/** Up and down as by lot, the same for every strip. */
function signOf(at: number, turn: number): number {
  return Math.imul(at + 1, 0x9e3779b1 * turn) & 0x10000 ? 1 : -1;
}
