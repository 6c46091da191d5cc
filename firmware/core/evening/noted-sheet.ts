/** What a sheet is given from and what is still to be given of it, noted beside what is chosen next. */
import { STRIP_SET_BYTES } from '../generated/codec';
import { isPartlyGiven } from '../plan/giving';
import { eveningPlan, leftPlan, PLAN_BYTES } from '../plan/plan';
import { activeRecipe, RECIPE_BODY_BYTES } from '../recipe/recipe';
import { Chosen } from '../state/chosen';
import { Given } from '../state/given';
import { leftChosen, leftGiven, leftSpread, leftStrip } from '../state/noted';
import { bracketSpread, chosen, chosenStrip, given, left } from '../state/state';

export const leftRecipe: usize = memory.data(RECIPE_BODY_BYTES, 8);

/** The sheet under way, or just left; the pass that is next, or its rest, is what it will go on with. */
export function noteSheet(): void {
  left.isFromShelf = false;
  memory.copy(changetype<usize>(leftPlan), changetype<usize>(eveningPlan), PLAN_BYTES);
  memory.copy(changetype<usize>(leftGiven), changetype<usize>(given), offsetof<Given>());
  leftGiven.isRest = isPartlyGiven();
  memory.copy(changetype<usize>(leftChosen), changetype<usize>(chosen), offsetof<Chosen>());
  memory.copy(changetype<usize>(leftStrip), changetype<usize>(chosenStrip), STRIP_SET_BYTES);
  memory.copy(changetype<usize>(leftSpread), changetype<usize>(bracketSpread), STRIP_SET_BYTES);
  memory.copy(leftRecipe, activeRecipe, RECIPE_BODY_BYTES);
}
