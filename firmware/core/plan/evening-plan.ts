/** Plans from what the printer chose, under the board's own settings. */
import { setLamp } from '../arithmetic/lamp';
import { StripSet } from '../generated/codec';
import { Cover, SettingName } from '../generated/constants';
import { recipeBeginAt, recipeDodgeAt, recipeHeadAt, recipePassAt } from '../recipe/recipe';
import { settingValue } from '../settings/settings';
import { Plan, PlanCode } from './plan';
import { addRecipeDodge, addRecipePass, beginRecipe, endRecipe } from './recipe-plan';
import { planStrip } from './strip-plan';

/** Takes lag and rise from the settings; the plans below do so themselves. */
export function lampFromSettings(): void {
  setLamp(settingValue(SettingName.LampLagMs), settingValue(SettingName.LampRiseMs));
}

/** Plans the recipe whose body is at `body`, with `baseMs` in place of its own base. */
export function planRecipeBody(plan: Plan, body: usize, baseMs: i32): PlanCode {
  lampFromSettings();
  const head = recipeHeadAt(body);
  beginRecipe(plan, baseMs, head.dryDown10, settingValue(SettingName.PauseForDodges) != 0);
  let dodge = 0;
  for (let index = 0, passes = i32(recipeBeginAt(body).passes); index < passes; index++) {
    const pass = recipePassAt(body, index);
    addRecipePass(plan, pass.kind, pass.stops120);
    for (const end = dodge + i32(pass.dodges); dodge < end; dodge++) {
      addRecipeDodge(plan, recipeDodgeAt(body, dodge).stops120);
    }
  }
  return endRecipe(plan);
}

/** Plans the strip that was asked for. */
export function planStripSet(plan: Plan, strip: StripSet): PlanCode {
  lampFromSettings();
  const separate = strip.cover == Cover.Separate;
  return planStrip(plan, strip.firstMs, strip.stepStops120, strip.stepMs, strip.patches, separate);
}
