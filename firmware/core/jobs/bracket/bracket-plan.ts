/**
 * A bracket: one pass of a recipe in several variants side by side on one sheet, like a strip, and all other passes
 * as they are. The bracketed pass is given without its dodges, whose hands would be in the way of the card.
 */

import { NO_DOSE } from '../../arithmetic/stops';
import { StripSet } from '../../generated/codec';
import { Cover, ExposureKind, OFFSET_STOPS120, PassKind, SettingName } from '../../generated/constants';
import { setLampFromSettings } from '../../plan/lamp-from-settings';
import { PLAN_PASSES, Plan, PlanCode } from '../../plan/plan';
import {
  dodgeFine3M,
  passFine3M,
  recipeBeginAt,
  recipeDodgeAt,
  recipeHeadAt,
  recipePassAt,
} from '../../recipe/recipe';
import { settingValue } from '../../settings/settings';
import {
  addDose,
  addRecipeDodge,
  addRecipePass,
  beginRecipe,
  endRecipe,
  recipePassMs,
} from '../recipe/recipe-plan';

const LEAST_VARIANTS: i32 = 2;
/** More are narrower than a card can be placed; and the panel has one column for their number. */
const MOST_VARIANTS: i32 = 9;

/**
 * The offset of the first variant, in 1/120 stop: as many variants below the pass as above it, except where a burn
 * would come to nothing; then they go up from one step.
 */
export function firstVariantStops120(body: usize, bracketed: i32, spread: StripSet): i32 {
  const pass = recipePassAt(body, bracketed);
  const step = i32(spread.stepStops120);
  const first = i32(pass.stops120) - (step * (i32(spread.patches) - 1)) / 2;
  return max(pass.kind == PassKind.Burn ? step : -OFFSET_STOPS120, first);
}

/** Plans the recipe at `body` with pass `bracketed` (from 0) in the variants of `spread`, whose times do not count. */
export function planBracket(plan: Plan, body: usize, bracketed: i32, spread: StripSet): PlanCode {
  setLampFromSettings();
  const head = recipeHeadAt(body);
  beginRecipe(plan, head.baseMs, head.dryDown10, settingValue(SettingName.PauseForDodges) != 0);
  plan.passLimit = PLAN_PASSES;
  if (i32(spread.patches) < LEAST_VARIANTS || i32(spread.patches) > MOST_VARIANTS)
    return PlanCode.CountOutOfRange;
  let dodge = 0;
  for (let index = 0, passes = i32(recipeBeginAt(body).passes); index < passes; index++) {
    const pass = recipePassAt(body, index);
    const end = dodge + i32(pass.dodges);
    if (index == bracketed) {
      addVariants(plan, body, index, spread);
    } else {
      addRecipePass(plan, pass.kind, pass.stops120, passFine3M(body, index));
      for (let at = dodge; at < end; at++)
        addRecipeDodge(plan, recipeDodgeAt(body, at).stops120, dodgeFine3M(body, at));
    }
    dodge = end;
    if (plan.code == PlanCode.Ok) plan.pass(plan.passCount - 1).recipePass = u8(index);
  }
  return endRecipe(plan);
}

/** What is covered step by step gets the difference of two variants, so that rounding never piles up. */
function addVariants(plan: Plan, body: usize, bracketed: i32, spread: StripSet): void {
  const kind = recipePassAt(body, bracketed).kind;
  const firstStops120 = firstVariantStops120(body, bracketed, spread);
  let coveredMs = 0;
  for (let variant = 0; variant < i32(spread.patches); variant++) {
    const stops120 = firstStops120 + i32(spread.stepStops120) * variant;
    const doseMs = recipePassMs(plan, kind, stops120, passFine3M(body, bracketed));
    if (doseMs == NO_DOSE || addDose(plan, ExposureKind.Bracket, doseMs - coveredMs) != PlanCode.Ok) return;
    const pass = plan.pass(plan.passCount - 1);
    pass.patch = u8(variant + 1);
    pass.recipePass = u8(bracketed);
    if (spread.cover == Cover.Cumulative) coveredMs = doseMs;
  }
}
