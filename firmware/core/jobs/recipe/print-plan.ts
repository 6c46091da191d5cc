/** The recipe in use as a plan, under the board's own settings. */
import { SettingName } from '../../generated/constants';
import { setLampFromSettings } from '../../plan/lamp-from-settings';
import { eveningPlan, PlanCode } from '../../plan/plan';
import {
  activeRecipe,
  dodgeFine3M,
  passFine3M,
  recipeBeginAt,
  recipeDodgeAt,
  recipeHeadAt,
  recipePassAt,
} from '../../recipe/recipe';
import { settingValue } from '../../settings/settings';
import { addRecipeDodge, addRecipePass, beginRecipe, endRecipe } from './recipe-plan';

export function planPrint(): PlanCode {
  setLampFromSettings();
  const head = recipeHeadAt(activeRecipe);
  beginRecipe(eveningPlan, head.baseMs, head.dryDown10, settingValue(SettingName.PauseForDodges) != 0);
  let dodge = 0;
  for (let index = 0, passes = i32(recipeBeginAt(activeRecipe).passes); index < passes; index++) {
    const pass = recipePassAt(activeRecipe, index);
    addRecipePass(eveningPlan, pass.kind, pass.stops120, passFine3M(activeRecipe, index));
    for (const end = dodge + i32(pass.dodges); dodge < end; dodge++) {
      const fine3M = dodgeFine3M(activeRecipe, dodge);
      addRecipeDodge(eveningPlan, recipeDodgeAt(activeRecipe, dodge).stops120, fine3M);
    }
  }
  return endRecipe(eveningPlan);
}
