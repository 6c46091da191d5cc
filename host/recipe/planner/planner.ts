import { limits } from '../../../shared-protocol/limits.js';
import type { Core } from '../../core/generated/core-interface.js';
import { type CarriedSegment, carryOut } from './carry-out.js';
import { loadCore, unsigned, whole } from './core.js';
import { type Lamp, useLamp } from './lamp.js';
import { doseAtOffset, type OffsetKind, offsetGiving } from './offset.js';
import type { PlanError } from './plan-error.js';
import {
  type PlannableRecipe,
  planRecipe,
  type RecipeConditions,
  type RecipePlan,
  recipeFaults,
} from './recipe.js';
import { planStrip, type StripPlan, type StripRequest, usualStrip } from './strip.js';

/**
 * What the board would do, told by the board's own core. Times are whole milliseconds from 1 to 1 h, offsets
 * 1/120 stops from -1200 to 1200, whole unless they came of a time. A dose that none of that can be is `undefined`.
 */
export interface Planner {
  /** `baseMs` x 2^(stops120/120). */
  timeAtStopsMs(baseMs: number, stops120: number): number | undefined;
  /** What a burn above zero adds: `baseMs` x (2^(stops120/120) - 1). */
  burnMs(baseMs: number, stops120: number): number | undefined;
  /** What a dodge, below zero, holds back: `baseMs` x (1 - 2^(stops120/120)). */
  dodgeMs(baseMs: number, stops120: number): number | undefined;
  /**
   * The offset of a base pass, burn or dodge that makes `wantedMs` of `fromMs`, to 1 ms: in whole 1/120 stop where that
   * gives it to the millisecond. Undefined where no offset of up to ten stops does.
   */
  offset120(kind: OffsetKind, fromMs: number, wantedMs: number): number | undefined;
  /** log2(to / from), to the nearest 1/120 stop. */
  stopsBetween120(fromMs: number, toMs: number): number;
  /** log2(to / from), to the nearest 1/100 stop, for people to read. */
  stopsBetween100(fromMs: number, toMs: number): number;
  /** log2(to / from), to the nearest 1/1000 stop, for scripts to read. */
  stopsBetween1000(fromMs: number, toMs: number): number;
  /** The relay's time for a dose. */
  onMsForDose(doseMs: number, lamp: Lamp): number;
  /** The dose of a relay time. */
  doseMs(onMs: number, lamp: Lamp): number;
  /** The least that the lamp can be depended on for. */
  minimumDoseMs(lamp: Lamp): number;
  /** The strip that an evening at the board begins with. */
  usualStrip(): StripRequest;
  planStrip(request: StripRequest): StripPlan;
  planRecipe(recipe: PlannableRecipe, conditions?: RecipeConditions): RecipePlan;
  recipeFaults(recipe: PlannableRecipe, conditions?: RecipeConditions): PlanError[];
  /** Which part of the plan each real pulse of the lamp was, pauses and all; see `carryOut`. */
  carryOutStrip(request: StripRequest, pulsesOnUs: readonly number[]): CarriedSegment[][];
  carryOutRecipe(
    recipe: PlannableRecipe,
    pulsesOnUs: readonly number[],
    conditions?: RecipeConditions,
  ): CarriedSegment[][];
}

/** The planner; the first call loads the core. */
export function loadPlanner(): Planner {
  const core = loadCore();
  return {
    timeAtStopsMs: (baseMs, stops120) => dose(core, 'base', baseMs, stops120),
    burnMs: (baseMs, stops120) => dose(core, 'burn', baseMs, stops120),
    dodgeMs: (baseMs, stops120) => dose(core, 'dodge', baseMs, stops120),
    offset120: (kind, fromMs, wantedMs) => {
      whole(fromMs, wantedMs);
      return offsetGiving(core, kind, fromMs, wantedMs);
    },
    stopsBetween120: (fromMs, toMs) => between(core, fromMs, toMs, limits.stopParts),
    stopsBetween100: (fromMs, toMs) => between(core, fromMs, toMs, 100),
    stopsBetween1000: (fromMs, toMs) => between(core, fromMs, toMs, 1000),
    onMsForDose: (doseMs, lamp) => lampTime(core, core.onUsForDose, doseMs, lamp),
    doseMs: (onMs, lamp) => lampTime(core, core.doseUs, onMs, lamp),
    minimumDoseMs: (lamp) => {
      useLamp(core, lamp);
      return core.minimumDoseMs();
    },
    usualStrip: () => usualStrip(core),
    planStrip: (request) => planStrip(core, request),
    planRecipe: (recipe, conditions) => planRecipe(core, recipe, conditions),
    recipeFaults: (recipe, conditions) => recipeFaults(core, recipe, conditions),
    carryOutStrip: (request, pulsesOnUs) => {
      planStrip(core, request);
      return carryOut(core, pulsesOnUs);
    },
    carryOutRecipe: (recipe, pulsesOnUs, conditions) => {
      planRecipe(core, recipe, conditions);
      return carryOut(core, pulsesOnUs);
    },
  };
}

/** The core's NO_DOSE is no number that anybody should go on calculating with. */
function dose(core: Core, kind: OffsetKind, baseMs: number, stops120: number): number | undefined {
  whole(baseMs);
  const doseMs = doseAtOffset(core, kind, baseMs, stops120);
  return doseMs < 0 ? undefined : doseMs;
}

function between(core: Core, fromMs: number, toMs: number, partsInStop: number): number {
  whole(fromMs, toMs);
  if (fromMs < 1 || toMs < 1) throw new RangeError('stops lie between times of 1 ms or more');
  return core.stopsBetween(fromMs, toMs, partsInStop);
}

/** Milliseconds with up to three decimals, there and back: the core has microseconds. */
function lampTime(core: Core, calculate: (us: number) => number, ms: number, lamp: Lamp): number {
  if (!(ms >= 0 && ms <= limits.longestDoseMs)) throw new RangeError(`${ms} ms is not between 0 and 1 h`);
  useLamp(core, lamp);
  return unsigned(calculate(Math.round(ms * 1000))) / 1000;
}
