/** The bracket that was chosen: which pass of the recipe in use is given in versions, how many, how far apart. */
import { STRIP_SET_BYTES, StripSet } from '../generated/codec';
import { Cover, PassKind } from '../generated/constants';
import { activeRecipe, recipeBeginAt, recipePassAt } from '../recipe/recipe';

/** Five versions by sixths of a stop: the third is the pass as it is, the ends are a third away. */
const VERSIONS: i32 = 5;
const STEP_STOPS120: i32 = 20;

/** Its times do not count. */
export const bracketSpread = changetype<StripSet>(memory.data(STRIP_SET_BYTES, 8));
/** Of the recipe, from 0. */
export let bracketPass: i32 = 0;

/** After power-up. */
export function firstBracket(): void {
  bracketSpread.patches = u8(VERSIONS);
  bracketSpread.stepStops120 = u16(STEP_STOPS120);
  bracketSpread.cover = u8(Cover.Cumulative);
  bracketPass = 0;
}

/** Another recipe is in use: its last burn, or its last pass, is what most often needs a second thought. */
export function bracketAnew(): void {
  const passes = i32(recipeBeginAt(activeRecipe).passes);
  bracketPass = max(0, passes - 1);
  for (let index = passes - 1; index >= 0; index--) {
    if (recipePassAt(activeRecipe, index).kind != PassKind.Burn) continue;
    bracketPass = index;
    return;
  }
}

/** False where the recipe has no such pass. */
export function bracketPassIs(pass: i32): bool {
  if (pass < 0 || pass >= i32(recipeBeginAt(activeRecipe).passes)) return false;
  bracketPass = pass;
  return true;
}
