import { InputError } from '../errors.js';
import { formatTime, nameFromTitle, type Recipe } from '../recipe/index.js';
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
export const dryDownSeries120 = [0, 7, 11, 14, 18, 22, 28] as const;

/** The same in tenths of a per cent, 1 - 2^(-n/120): the steps are whole 1/120 stops, as a board gives them. */
export const dryDownSeries10: readonly number[] = dryDownSeries120.map((stops120) =>
  Math.round(1000 * (1 - 2 ** (-stops120 / 120))),
);

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

/** The sheet as a recipe, so that a board gives it: a pass for each patch, all through one filter. */
export function dryDownSheetRecipe(baseMs: number, filter = ''): Recipe {
  const title = `Dry-down ${formatTime(baseMs)} ${filter}`.trim();
  return {
    ...{ name: nameFromTitle(title), title, negative: '', paper: '', version: 1, baseMs, dryDown10: 0 },
    ...{ aperture10: 0, magnification1000: 0, columnHeightMm: 0, focalLengthMm: 0, notes: '', history: [] },
    passes: dryDownSeries120.map((stops120, index) => ({
      ...{ kind: 'base', label: `patch ${index + 1}`, filter, stops120: -stops120 + 0, dodges: [] },
    })),
  };
}

/** The sheet's patches, each exposed alone, as the core plans them. @throws DryDownError */
export function dryDownSheet(planner: Planner, baseMs: number): DryDownPatch[] {
  const { passes } = planned(planner, dryDownSheetRecipe(baseMs));
  return passes.map(({ doseMs }, index) => ({
    patch: index + 1,
    dryDown10: dryDownSeries10[index]!,
    doseMs,
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
  return planned(planner, { baseMs, dryDown10, passes: [plainPass] }).baseMs;
}

function planned(planner: Planner, recipe: PlannableRecipe) {
  try {
    return planner.planRecipe(recipe);
  } catch (error) {
    if (error instanceof PlanError || error instanceof RangeError) throw new DryDownError(error.message);
    throw error;
  }
}

const plainPass = { kind: 'base', label: 'base', filter: '', stops120: 0, dodges: [] } as const;
