import type { BoardRecipe } from '../../recipe/board-recipe.js';
import { PlanError, type Planner, type RecipePlan } from '../../recipe/planner/index.js';
import type { Recipe, RecipeDodge, RecipePass } from '../../recipe/recipe.js';
import { recipeDifferences } from '../../recipe/recipe-differences.js';
import { nameFromTitle } from '../../recipe/recipe-name.js';
import type { KeptRecipe } from '../archive/archive.js';
import { completed } from '../recipes/completed.js';
import { contentToComplete } from '../recipes/content-at.js';
import { type GivenOptions, type GivenPass, givenPasses } from './given-passes.js';
import type { PrintedSheet } from './printed-sheet.js';
import { contentAtSheet, recipeAsPrinted } from './recipe-as-printed.js';

/** A recipe of a print as it was given. */
export interface RecipeAgain {
  readonly recipe: Recipe;
  /** What its version held, as it was kept; undefined where only the log tells. */
  readonly content: BoardRecipe | undefined;
  /** How what was given differs from that, in words; none where it was given by the recipe. */
  readonly differences: readonly string[];
  /** What nothing tells any more, or not yet. */
  readonly unknown: readonly string[];
  /** Whole stops by which the lens was closed since the recipe's own aperture. */
  readonly stoppedDown: number;
}

/** Light is booked in whole milliseconds, and the lamp's figures are good to about this. */
const SAME_MS = 2;
const SAME_SHARE = 0.001;
const LEAST_STOPS120 = -1200;

/**
 * Makes a recipe of what a sheet got. Passes that were given as planned stay what they were; one that was begun and left, given
 * twice or changed gets the offset of its light, and one without light is left out.
 * @throws SheetError for what is no print, and for light that a power cut ended.
 */
export function recipeAgain(
  planner: Planner,
  sheet: PrintedSheet,
  archived: readonly KeptRecipe[],
  options: GivenOptions = {},
): RecipeAgain {
  const kept = archived.filter(({ recipe }) => recipe.name === sheet.recipe);
  const given = givenPasses(sheet, options);
  const planned = plannedAsLogged(planner, sheet, kept, given);
  const content = planned && contentAtSheet(sheet, kept)?.recipe;
  const recipe =
    planned === undefined ? fromLogAlone(planner, sheet, given) : asGiven(planner, planned, given);
  return {
    recipe,
    content,
    differences: content === undefined ? [] : recipeDifferences(content, recipe),
    unknown: [...(planned === undefined ? notKnown(sheet) : []), ...notEnded(sheet)],
    stoppedDown: sheet.stoppedDown,
  };
}

interface Planned {
  readonly recipe: Recipe;
  readonly plan: RecipePlan;
}

/** The recipe that the board had, if its plan is what the log says was to be given: with what was turned, or without. */
function plannedAsLogged(
  planner: Planner,
  sheet: PrintedSheet,
  kept: readonly KeptRecipe[],
  given: readonly GivenPass[],
): Planned | undefined {
  for (const turns of [sheet.turns, []]) {
    const asPrinted = recipeAsPrinted({ ...sheet, turns }, kept);
    if (asPrinted === undefined) continue;
    const { recipe } = completed(asPrinted, contentToComplete(kept, asPrinted)?.recipe);
    const plan = planOf(planner, recipe);
    if (plan !== undefined && fits(plan, given)) return { recipe, plan };
  }
  return undefined;
}

function fits(plan: RecipePlan, given: readonly GivenPass[]): boolean {
  return given.every(({ pass, label, plannedMs }) => {
    const one = plan.passes[pass - 1];
    return one !== undefined && one.label === label && Math.abs(one.doseMs - plannedMs) <= SAME_MS;
  });
}

function planOf(planner: Planner, recipe: Recipe): RecipePlan | undefined {
  try {
    return planner.planRecipe(recipe);
  } catch (error) {
    if (error instanceof PlanError) return undefined;
    throw error;
  }
}

function asGiven(planner: Planner, { recipe: planned, plan }: Planned, given: readonly GivenPass[]): Recipe {
  const isAsPlanned = (one: GivenPass) => isSame(one.doseMs, plan.passes[one.pass - 1]!.doseMs);
  if (given.length === planned.passes.length && given.every(isAsPlanned)) return planned;
  const base = newBase(planned, plan, given);
  const passes = given.map((one): RecipePass => {
    const was = planned.passes[one.pass - 1]!;
    const stays = isAsPlanned(one) && base === undefined;
    if (stays) return was;
    const dodges = dodgesAsGiven(planner, was.dodges, plan, one);
    return { ...was, stops120: stopsOf(planner, one, base ?? plan.baseMs), dodges };
  });
  const changed = { ...planned, passes };
  return withRoomForDodges(
    planner,
    base === undefined ? changed : { ...changed, baseMs: base, dryDown10: 0 },
  );
}

/** Dodges that took a pass to its last moment may be too long for it by their rounding: the last one gives way. */
function withRoomForDodges(planner: Planner, recipe: Recipe): Recipe {
  const fault = planner.recipeFaults(recipe).find((one) => one.fault === 'dodges-too-long');
  const at = fault?.figures.pass;
  if (at === undefined) return recipe;
  const passes = recipe.passes.map((pass, index) => (index === at ? withLessDodged(pass) : pass));
  return withRoomForDodges(planner, { ...recipe, passes });
}

function withLessDodged(pass: RecipePass): RecipePass {
  const last = pass.dodges.at(-1)!;
  const less = last.stops120 > -2 ? [] : [{ ...last, stops120: last.stops120 + 1 }];
  return { ...pass, dodges: [...pass.dodges.slice(0, -1), ...less] };
}

/** Where the one pass of the base got another light than planned, that light is the base. */
function newBase(planned: Recipe, plan: RecipePlan, given: readonly GivenPass[]): number | undefined {
  const bases = given.filter(({ kind }) => kind === 'base');
  const [only] = bases;
  if (only === undefined || bases.length > 1) return undefined;
  const was = planned.passes[only.pass - 1]!;
  if (was.stops120 !== 0 || isSame(only.doseMs, plan.passes[only.pass - 1]!.doseMs)) return undefined;
  return only.doseMs;
}

function stopsOf(planner: Planner, { kind, doseMs }: GivenPass, baseMs: number): number {
  const whole120 =
    kind === 'burn'
      ? Math.max(1, planner.stopsBetween120(baseMs, baseMs + doseMs))
      : planner.stopsBetween120(baseMs, doseMs);
  const givenMs =
    kind === 'burn' ? planner.burnMs(baseMs, whole120) : planner.timeAtStopsMs(baseMs, whole120);
  return isAsGood(givenMs, doseMs) ? whole120 : (planner.offset120(kind, baseMs, doseMs) ?? whole120);
}

/** Whole 1/120 stop say it as well as the log knows it. */
function isAsGood(byWholeMs: number | undefined, givenMs: number): boolean {
  return byWholeMs !== undefined && Math.abs(byWholeMs - givenMs) <= SAME_MS;
}

/** Dodges come first in their pass, one after another: one that was left early was held back for less. */
function dodgesAsGiven(
  planner: Planner,
  dodges: readonly RecipeDodge[],
  plan: RecipePlan,
  given: GivenPass,
): RecipeDodge[] {
  const segments = plan.passes[given.pass - 1]!.segments.filter(({ kind }) => kind === 'dodge');
  let beforeMs = 0;
  return dodges.flatMap((dodge, nth) => {
    const [fromMs, lengthMs] = [beforeMs, segments[nth]!.doseMs];
    beforeMs += lengthMs;
    const heldMs = given.lightsMs.reduce(
      (sum, doseMs) => sum + Math.min(lengthMs, Math.max(0, doseMs - fromMs)),
      0,
    );
    const stops120 = heldStops120(planner, given.doseMs, heldMs);
    return stops120 === 0 ? [] : [{ ...dodge, stops120 }];
  });
}

function heldStops120(planner: Planner, doseMs: number, heldMs: number): number {
  if (heldMs < 1) return 0;
  if (heldMs >= doseMs) return LEAST_STOPS120;
  const whole120 = planner.stopsBetween120(doseMs, doseMs - heldMs);
  const asGood = isAsGood(planner.dodgeMs(doseMs, whole120), heldMs);
  return asGood ? whole120 : (planner.offset120('dodge', doseMs, heldMs) ?? LEAST_STOPS120);
}

/** Without what a board holds of the recipe: its light as the log has it, dodges unknown. */
function fromLogAlone(planner: Planner, sheet: PrintedSheet, given: readonly GivenPass[]): Recipe {
  const [baseOnly, ...more] = given.filter(({ kind }) => kind === 'base');
  const baseMs = baseOnly !== undefined && more.length === 0 ? baseOnly.doseMs : sheet.baseMs;
  const title = titleOf(sheet);
  return {
    name: sheet.recipe === '' ? nameFromTitle(title) : sheet.recipe,
    version: sheet.version,
    title,
    ...{ negative: '', paper: '', notes: '', history: [] },
    ...{ aperture10: 0, magnification1000: 0, columnHeightMm: 0, focalLengthMm: 0, dryDown10: 0 },
    baseMs,
    passes: given.map((one) => ({
      kind: one.kind,
      label: one.label === '' ? one.kind : one.label,
      filter: one.filter,
      stops120: stopsOf(planner, one, baseMs),
      dodges: [],
    })),
  };
}

function titleOf({ recipe, night, sheet }: PrintedSheet): string {
  return recipe === '' ? `Print ${night ?? 'undated'} ${sheet}` : recipe.replaceAll('-', ' ');
}

function notKnown({ recipe, version, job }: PrintedSheet): string[] {
  if (job === 'plain') return [];
  return [
    `the archive has no version ${version} of '${recipe}' as it was printed, so dodges, if it had any, and shapes are not known`,
  ];
}

/** Passes that it gets later would be said to be taken away. */
function notEnded({ sheet, ending }: PrintedSheet): string[] {
  if (ending !== null) return [];
  return [`whether sheet ${sheet} got more: the log has no end of it, as of one that is still under way`];
}

function isSame(oneMs: number, otherMs: number): boolean {
  return Math.abs(oneMs - otherMs) <= Math.max(SAME_MS, otherMs * SAME_SHARE);
}
