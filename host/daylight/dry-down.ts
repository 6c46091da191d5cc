import { InputError } from '../errors.js';
import { PlanError, type PlannableRecipe, type Planner } from '../recipe/planner/index.js';

/**
 * Prints look darker dry than wet. A paper's figure is how much less light, in tenths of a per cent of every
 * exposure, makes the dry print look as the wet one did.
 *
 * The one-sheet method: expose the patches below on one sheet, each alone, on an even light grey of the
 * negative (a highlight, where eyes judge best). After processing cut the sheet lengthwise through all patches.
 * Leave one half in water, dry the other. Side by side, find the dry patch that looks like the wet patch with
 * nothing taken off: that is the figure.
 *
 * Source: about 10 per cent, Hicks and Schultz, 'Paper grades'; a series at 8 to 12 per cent, a printer's
 * article on dry-down; resin-coated paper hardly any. Doing it on one cut sheet: common practice, no source.
 */
export const dryDownSeries10 = [0, 40, 60, 80, 100, 120, 150] as const;

/** Common figures to begin with, in tenths of a per cent. */
export const commonDryDown10 = { 'resin-coated': 0, fibre: 80 } as const;

export const dryDownBounds10 = { min: 0, max: 500 } as const;

export interface DryDownPatch {
  /** From 1, the one with nothing taken off first. */
  readonly patch: number;
  readonly dryDown10: number;
  readonly doseMs: number;
}

/** A reading that the sheet cannot have given. */
export class DryDownError extends InputError {
  override readonly name = 'DryDownError';
}

/** The sheet's patches, each exposed alone; the core rounds each, as it will in prints. */
export function dryDownSheet(planner: Planner, baseMs: number): DryDownPatch[] {
  return dryDownSeries10.map((dryDown10, index) => ({
    patch: index + 1,
    dryDown10,
    doseMs: baseAfterDryDown(planner, baseMs, dryDown10),
  }));
}

/**
 * The figure, in tenths of a per cent, of the dry patch that looks like the wet first one.
 * @param matched a patch from 1, or a half for 'between two' (2.5 lies between the second and the third).
 * @throws DryDownError for a patch that the sheet has not.
 */
export function dryDownFromMatch(matched: number): number {
  const below = dryDownSeries10[Math.floor(matched) - 1];
  const above = dryDownSeries10[Math.ceil(matched) - 1];
  if (below === undefined || above === undefined || !Number.isInteger(matched * 2))
    throw new DryDownError(
      `patch ${matched} is not on the sheet; give 1 to ${dryDownSeries10.length}, or a half for one between two`,
    );
  return Math.round((below + above) / 2);
}

/** What the base is after dry-down, by the core. @throws DryDownError */
export function baseAfterDryDown(planner: Planner, baseMs: number, dryDown10: number): number {
  const recipe: PlannableRecipe = { baseMs, dryDown10, passes: [plainPass] };
  try {
    return planner.planRecipe(recipe).baseMs;
  } catch (error) {
    if (error instanceof PlanError || error instanceof RangeError) throw new DryDownError(error.message);
    throw error;
  }
}

const plainPass = { kind: 'base', label: 'base', filter: '', stops120: 0, dodges: [] } as const;
