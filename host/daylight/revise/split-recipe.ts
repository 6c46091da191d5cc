import {
  formatStops,
  formatTime,
  type Recipe,
  type RecipeDodge,
  type RecipePass,
} from '../../recipe/index.js';
import type { Planner } from '../../recipe/planner/index.js';
import { revised } from '../../recipe/revised.js';
import { isSameFilter } from '../filters/filter-table.js';
import { SplitError, type SplitGrade, type SplitStrips, splitGrade } from '../filters/split-grade.js';
import type { Revision } from './revise.js';

/** How a burn was written for the new base, so that it gives the seconds that it gave. */
export interface KeptBurn {
  readonly label: string;
  readonly beforeStops120: number;
  readonly stops120: number;
  readonly doseMs: number;
}

export interface SplitAccount extends SplitGrade {
  /** Areas that are held back in both exposures, each by its stops of either. */
  readonly dodged: readonly string[];
  readonly burns: readonly KeptBurn[];
}

/**
 * Makes the recipe's base a split of a soft and a hard exposure. A dodge is held in both: what holds back a third of
 * a stop of each holds back a third of a stop of the whole. A burn is light through its own filter, which the split does
 * not change, so it keeps its seconds and is written anew in stops of the soft exposure.
 * @throws SplitError
 */
export function splitRecipe(
  planner: Planner,
  recipe: Recipe,
  strips: SplitStrips,
  at: Date,
): Revision<SplitAccount> {
  const split = splitGrade(planner, strips);
  const bases = recipe.passes.filter(({ kind }) => kind === 'base');
  const [softDodges, hardDodges] = dodgesOf(bases, strips);
  const kept = recipe.passes
    .filter(({ kind }) => kind === 'burn')
    .map((burn) => ({ burn, ...keptBurn(planner, recipe.baseMs, split.baseMs, burn) }));
  const [soft, hard] = split.passes;
  const passes = [
    { ...soft, dodges: softDodges },
    { ...hard, dodges: hardDodges },
    ...kept.map(({ burn, stops120 }) => ({ ...burn, stops120 })),
  ];
  const changed: Recipe = { ...recipe, baseMs: split.baseMs, passes };
  refuseFaults(planner, changed);
  const account: SplitAccount = {
    ...split,
    dodged: softDodges.map(({ label }) => label),
    burns: kept.map(({ burn: _burn, ...rest }) => rest),
  };
  return { recipe: revised(recipe, changed, historyOf(account), at), account };
}

function dodgesOf(
  bases: readonly RecipePass[],
  { soft, hard }: SplitStrips,
): [readonly RecipeDodge[], readonly RecipeDodge[]] {
  const [one, other] = bases;
  if (one === undefined) return [[], []];
  if (bases.every(({ dodges }) => isSame(dodges, one.dodges))) return [one.dodges, one.dodges];
  if (bases.length === 2 && isSameFilter(one.filter, soft.filter) && isSameFilter(other!.filter, hard.filter))
    return [one.dodges, other!.dodges];
  throw new SplitError(
    'recipe',
    `the recipe has ${bases.length} base passes with different dodges, and a split cannot tell how much of the whole each ` +
      'holds back; make them one base pass first, with each dodge in stops of it',
  );
}

function isSame(one: readonly RecipeDodge[], other: readonly RecipeDodge[]): boolean {
  const told = (dodges: readonly RecipeDodge[]) =>
    JSON.stringify(dodges.map(({ label, stops120 }) => [label, stops120]));
  return told(one) === told(other);
}

function keptBurn(planner: Planner, fromMs: number, toMs: number, { label, stops120 }: RecipePass): KeptBurn {
  const wantedMs = planner.burnMs(fromMs, stops120) ?? 0;
  const newStops120 = planner.offset120('burn', toMs, wantedMs);
  const doseMs = newStops120 === undefined ? undefined : planner.burnMs(toMs, newStops120);
  if (newStops120 === undefined || doseMs === undefined)
    throw new SplitError(
      'recipe',
      `burn '${label}' gives ${formatTime(wantedMs)}, which cannot be written in stops of a soft exposure of ${formatTime(toMs)}; ` +
        'take the burn out, and put it back in the new version',
    );
  return { label, beforeStops120: stops120, stops120: newStops120, doseMs };
}

function refuseFaults(planner: Planner, recipe: Recipe): void {
  const [fault] = planner.recipeFaults(recipe);
  if (fault !== undefined)
    throw new SplitError('recipe', `the split cannot be printed: ${fault.message}; ${fault.wayOut}`);
}

function historyOf({ passes: [soft, hard], burns }: SplitAccount): string[] {
  return [
    `split: filter ${soft.filter} for highlights, filter ${hard.filter} for shadows`,
    ...burns.map(
      ({ label, beforeStops120, stops120, doseMs }) =>
        `${label}: ${formatStops(beforeStops120)} to ${formatStops(stops120)}, ${formatTime(doseMs)}`,
    ),
  ];
}
