/** The plan of what was chosen. */
import { ErrorCode } from '../generated/constants';
import { isOfRecipe, planOf } from '../jobs/kinds';
import { NO_TEXT } from '../jobs/recipe/labels';
import { takeRecipe } from '../jobs/recipe/recipe-in-use';
import { eveningPlan } from '../plan/plan';
import { nameInUse } from '../recipe/recipe';
import { Refusal } from '../state/situation';
import { chosen, situation } from '../state/state';
import { room } from '../storage/ring';

/** Entries that one sheet may need beside those of its passes: the sheet, the lens, a pedal that sticks, what the knob turned, the baths. */
const ENTRIES_BESIDE: i32 = 24;

/** Plans it, with the shelf's newer version of its recipe if there is one; `situation.refusal` says why it cannot be given. */
export function planJob(): bool {
  if (chosen.recipeIsOld) chosen.recipeIsOld = takeRecipe(nameInUse()) == ErrorCode.Busy;
  return planAsItIs();
}

/** The same of what lies in memory, whatever the shelf has by now: for the sheet under way. */
export function planAsItIs(): bool {
  situation.refusal = planOf(situation.job);
  if (situation.refusal == Refusal.None && room() < eveningPlan.passCount + ENTRIES_BESIDE) {
    situation.refusal = Refusal.LogFull;
  }
  return situation.refusal == Refusal.None;
}

/** A text: the name of the recipe that it is of, empty where there is none. */
export function jobName(): usize {
  return isOfRecipe(situation.job) ? nameInUse() : NO_TEXT;
}
