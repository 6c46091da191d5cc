import type { Core } from '../../core/generated/core-interface.js';
import { type FineStops, splitStops } from '../fine-stops.js';
import { unsigned, whole } from './core.js';
import { idealLamp, type Lamp, useLamp } from './lamp.js';
import type { PlanError } from './plan-error.js';
import { failure } from './refusal.js';

export interface PlannableDodge {
  readonly label: string;
  /** -1200..-1: less light. */
  readonly stops120: number;
}

export interface PlannablePass {
  readonly kind: 'base' | 'burn';
  readonly label: string;
  readonly filter: string;
  /** Of a base pass its offset from the base; of a burn, above zero, how much more its area gets. */
  readonly stops120: number;
  readonly dodges: readonly PlannableDodge[];
}

/** What a plan needs to know of a recipe. */
export interface PlannableRecipe {
  readonly baseMs: number;
  /** Tenths of a per cent less for a paper that dries darker. */
  readonly dryDown10?: number;
  readonly passes: readonly PlannablePass[];
}

export interface PlannedSegment {
  readonly kind: 'open' | 'dodge';
  readonly label: string;
  readonly doseMs: number;
  /** The relay's time for it, to the microsecond. */
  readonly onMs: number;
  /** The lamp stops, and the pedal is awaited, before it. */
  readonly stopsFirst: boolean;
  /** Too short for a pulse of its own, so it runs on from the dodge before it. */
  readonly joined: boolean;
}

export interface PlannedPass {
  readonly label: string;
  readonly kind: 'base' | 'burn';
  readonly filter: string;
  readonly stops120: number;
  readonly doseMs: number;
  readonly segments: readonly PlannedSegment[];
}

export interface RecipePlan {
  /** After dry-down: what every offset refers to. */
  readonly baseMs: number;
  /** All passes together: the time that the lamp shines on somewhere of the sheet, in full light. */
  readonly totalMs: number;
  readonly passes: readonly PlannedPass[];
}

export interface RecipeConditions {
  readonly lamp?: Lamp;
  /** The board's setting `pause-for-dodges`: each dodge stops the lamp first. On unless it says no. */
  readonly dodgesStop?: boolean;
}

const passKinds = { base: 0, burn: 1 } as const;
const DODGE = 1;
const STOPS_FIRST = 1;
const JOINED = 2;

/** Plans a recipe as the board would. PlanError for the first thing that cannot be carried out. */
export function planRecipe(
  core: Core,
  recipe: PlannableRecipe,
  conditions: RecipeConditions = {},
): RecipePlan {
  const code = buildPlan(core, recipe, conditions);
  if (code !== 0) throw failure(core, code);
  const passes = recipe.passes.map((pass, index) => plannedPass(core, pass, index));
  return { baseMs: core.planBaseMs(), totalMs: passes.reduce((sum, pass) => sum + pass.doseMs, 0), passes };
}

/** Every pass of the recipe that cannot be carried out, each with its first fault; empty if it all can. */
export function recipeFaults(
  core: Core,
  recipe: PlannableRecipe,
  conditions: RecipeConditions = {},
): PlanError[] {
  const whole = buildPlan(core, recipe, conditions);
  if (whole === 0) return [];
  const wholeFault = failure(core, whole);
  const faults = recipe.passes.flatMap((pass, index) => {
    const code = buildPlan(core, { ...recipe, passes: [pass] }, conditions);
    return code === 0 ? [] : [failure(core, code, index)];
  });
  // What only all passes together do, such as too many dodges, shows in no single one.
  return faults.length > 0 && wholeFault.figures.pass !== undefined ? faults : [wholeFault];
}

function buildPlan(core: Core, recipe: PlannableRecipe, conditions: RecipeConditions): number {
  useLamp(core, conditions.lamp ?? idealLamp);
  whole(recipe.baseMs, recipe.dryDown10 ?? 0);
  core.planBegin(recipe.baseMs, recipe.dryDown10 ?? 0, conditions.dodgesStop ?? true);
  for (const pass of recipe.passes) {
    const { stops120, fine3M } = splitOffset(pass.stops120);
    core.planPass(passKinds[pass.kind], stops120, fine3M);
    for (const dodge of pass.dodges) addDodge(core, dodge);
  }
  return core.planEnd();
}

function addDodge(core: Core, dodge: PlannableDodge): void {
  const { stops120, fine3M } = splitOffset(dodge.stops120);
  core.planDodge(stops120, fine3M);
}

function splitOffset(offset120: number): FineStops {
  const split = splitStops(offset120);
  whole(split.stops120, split.fine3M);
  return split;
}

function plannedPass(core: Core, pass: PlannablePass, index: number): PlannedPass {
  const segments: PlannedSegment[] = [];
  for (let at = 0; at < core.planPieceCount(); at += 1) {
    if (core.planPiecePass(at) === index) segments.push(plannedSegment(core, at, pass, segments.length));
  }
  const { label, kind, filter, stops120 } = pass;
  return { label, kind, filter, stops120, doseMs: core.planPassDoseMs(index), segments };
}

function plannedSegment(core: Core, at: number, pass: PlannablePass, nth: number): PlannedSegment {
  const isDodge = core.planPieceKind(at) === DODGE;
  const flags = core.planPieceFlags(at);
  return {
    kind: isDodge ? 'dodge' : 'open',
    label: (isDodge ? pass.dodges[nth] : pass)?.label ?? '',
    doseMs: core.planPieceDoseMs(at),
    onMs: unsigned(core.planPieceOnUs(at)) / 1000,
    stopsFirst: (flags & STOPS_FIRST) !== 0,
    joined: (flags & JOINED) !== 0,
  };
}
