import { type Aperture, type ApertureScale, readAperture } from '../../darkroom/optics/aperture.js';
import { dryDownStops } from '../../recipe/dry-down.js';
import { formatAperture10, formatDryDown10, type Recipe } from '../../recipe/index.js';
import type { Planner } from '../../recipe/planner/index.js';
import type { PrintSize } from '../../recipe/print-size.js';
import { revised } from '../../recipe/revised.js';
import { changeFilter, type FilterChange } from '../filters/change-filter.js';
import type { FilterTable } from '../filters/filter-table.js';
import {
  type Change,
  type Rescaled,
  RescaleError,
  type RescaleRequest,
  rescale,
  type SizeChange,
} from '../rescale.js';
import { namedForSize, sizeWords } from './size-name.js';

/** A request in which the recipe itself may supply what was before. */
export interface RecipeChange {
  readonly magnification?: { readonly from?: number; readonly to: number };
  readonly paper?: Change<PrintSize> & { readonly negative?: PrintSize };
  readonly columnMm?: { readonly from?: number; readonly to: number; readonly focalLengthMm?: number };
  readonly pupilFactor?: number;
  readonly aperture?: { readonly from?: Aperture; readonly to: Aperture };
  readonly apertureScale?: ApertureScale;
  readonly paperSpeedP?: Change<number>;
  /** What the new paper is called, where it is another. */
  readonly paperName?: string;
}

/** The new version of a recipe, and the account of how it came about. */
export interface Revision<Account> {
  readonly recipe: Recipe;
  readonly account: Account;
}

/**
 * Rescales a recipe for another size, lens stop or paper: lens and size are rewritten, the base is rounded
 * once, offsets stay, and the history says why. Another size is a recipe of its own name.
 * @throws RescaleError where the recipe contradicts what was given, or what was before is not known.
 */
export function rescaleRecipe(recipe: Recipe, change: RecipeChange, at: Date): Revision<Rescaled> {
  const size = sizeChange(recipe, change);
  const aperture = change.aperture && {
    from: apertureBefore(recipe, change.aperture.from, change.apertureScale),
    to: change.aperture.to,
  };
  const request: RescaleRequest = {
    baseMs: recipe.baseMs,
    ...(size && { size }),
    ...(aperture && { aperture }),
    ...(change.pupilFactor !== undefined && { pupilFactor: change.pupilFactor }),
    ...(change.paperSpeedP && { paperSpeedP: change.paperSpeedP }),
  };
  const account = rescale(request);
  const newSize = size === undefined ? '' : sizeWords(change.paper?.to, account.magnification);
  const before: Recipe = newSize === '' ? recipe : { ...recipe, ...namedForSize(recipe, newSize) };
  const changed: Recipe = {
    ...before,
    baseMs: account.baseMs,
    ...(change.paperName !== undefined && { paper: change.paperName }),
    aperture10: account.aperture ? Math.round(account.aperture.marked * 10) : recipe.aperture10,
    magnification1000: magnificationAfter(recipe, account, size !== undefined),
    ...(change.columnMm && {
      columnHeightMm: change.columnMm.to,
      focalLengthMm: focalLength(recipe, change.columnMm),
    }),
  };
  const lines = account.reasons.map(
    ({ change: what, factor }) => `${what}, x ${Number(factor.toPrecision(4))}`,
  );
  if (newSize !== '') lines.unshift(`${newSize}, from '${recipe.name}' version ${recipe.version}`);
  return { recipe: revised({ ...before, baseMs: recipe.baseMs }, changed, lines, at), account };
}

/** Changes the filter of one pass; the factor goes into that pass's offset. @throws FilterError */
export function refilterRecipe(
  planner: Planner,
  table: FilterTable,
  recipe: Recipe,
  passIndex: number,
  filter: string,
  at: Date,
): Revision<FilterChange> {
  const pass = recipe.passes[passIndex];
  if (pass === undefined)
    throw new RescaleError('pass', `the recipe has ${recipe.passes.length} passes, not ${passIndex + 1}`);
  const account = changeFilter(planner, table, recipe.baseMs, pass, filter);
  const passes = recipe.passes.map((each, index) =>
    index === passIndex ? { ...each, filter: account.filter, stops120: account.stops120 } : each,
  );
  return {
    recipe: revised(recipe, { ...recipe, passes }, [`${pass.label}: ${account.because}`], at),
    account,
  };
}

/** Sets a recipe's dry-down, in tenths of a per cent; the core takes it off the base. */
export function dryDownRecipe(recipe: Recipe, dryDown10: number, at: Date): Recipe {
  const line = `dry-down ${formatDryDown10(recipe.dryDown10)} to ${formatDryDown10(dryDown10)}, ${dryDownStops(dryDown10).toFixed(2)} stop`;
  return revised(recipe, { ...recipe, dryDown10 }, [line], at);
}

function sizeChange(
  recipe: Recipe,
  { magnification, paper, columnMm }: RecipeChange,
): SizeChange | undefined {
  if ([magnification, paper, columnMm].filter((given) => given !== undefined).length > 1)
    throw new RescaleError(
      'size',
      'the new size was given in two ways; give the magnification, the papers or the column height',
    );
  const now = recipe.magnification1000 / 1000;
  if (magnification)
    return {
      magnification: { from: before('magnification', magnification.from, now), to: magnification.to },
    };
  if (columnMm)
    return {
      columnMm: { from: before('columnHeightMm', columnMm.from, recipe.columnHeightMm), to: columnMm.to },
      focalLengthMm: focalLength(recipe, columnMm),
    };
  if (paper === undefined) return undefined;
  const { negative, ...papers } = paper;
  return { paper: papers, ...(negative && { negative }), ...(now > 0 && { magnificationNow: now }) };
}

const fieldWords = {
  magnification: 'magnification',
  columnHeightMm: 'column height in mm',
  focalLengthMm: 'focal length in mm',
} as const;

/** What was before: as given, or as the recipe says; both must agree where both are there (0 is unknown). */
function before(field: keyof typeof fieldWords, given: number | undefined, recorded: number): number {
  if (given === undefined && recorded === 0)
    throw new RescaleError(
      field,
      `the recipe does not say its ${fieldWords[field]}; give what it was as well`,
    );
  if (given !== undefined && recorded !== 0 && Math.abs(given / recorded - 1) > AGREES)
    throw new RescaleError(
      field,
      `the recipe's ${fieldWords[field]} is ${recorded}, not ${given}; correct one of them`,
    );
  return given ?? recorded;
}

/** A thousandth: what the recipe rounds a magnification to. */
const AGREES = 0.001;

function focalLength(recipe: Recipe, { focalLengthMm }: { readonly focalLengthMm?: number }): number {
  return before('focalLengthMm', focalLengthMm, recipe.focalLengthMm);
}

function apertureBefore(
  recipe: Recipe,
  given: Aperture | undefined,
  scale: ApertureScale | undefined,
): Aperture {
  if (given === undefined && recipe.aperture10 === 0)
    throw new RescaleError('aperture', 'the recipe does not say its aperture; give both, as f/8:f/11');
  if (given !== undefined && recipe.aperture10 !== 0 && Math.round(given.marked * 10) !== recipe.aperture10)
    throw new RescaleError(
      'aperture',
      `the recipe's aperture is ${formatAperture10(recipe.aperture10)}, not f/${given.marked}; correct one of them`,
    );
  return given ?? readAperture(formatAperture10(recipe.aperture10), scale);
}

/** Where the size changed and its magnification is not known, an old figure would be wrong: 0 says unknown. */
function magnificationAfter(recipe: Recipe, account: Rescaled, sizeChanged: boolean): number {
  if (account.magnification !== undefined) return Math.round(account.magnification * 1000);
  return sizeChanged ? 0 : recipe.magnification1000;
}
