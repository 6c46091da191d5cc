/** The bracket that is chosen: which pass of the recipe in use is given in variants, how many, how far apart. */
import { Cover, PassKind } from '../../generated/constants';
import { activeRecipe, recipeBeginAt, recipePassAt } from '../../recipe/recipe';
import { bracketSpread, chosen } from '../../state/state';

/** Five variants by sixths of a stop: the third is the pass as it is, the ends are a third away. */
const VARIANTS: i32 = 5;
const STEP_STOPS120: i32 = 20;

/** After power-up. Its times do not count. */
export function chooseFirstBracket(): void {
  bracketSpread.patches = u8(VARIANTS);
  bracketSpread.stepStops120 = u16(STEP_STOPS120);
  bracketSpread.cover = u8(Cover.Cumulative);
}

/** Another recipe is in use: its last burn, or its last pass, is what most often needs a second thought. */
export function aimBracket(): void {
  const passes = i32(recipeBeginAt(activeRecipe).passes);
  chosen.bracketPass = passes - 1;
  for (let index = passes - 1; index >= 0; index--) {
    if (recipePassAt(activeRecipe, index).kind != PassKind.Burn) continue;
    chosen.bracketPass = index;
    return;
  }
}

/** Stays at the pass before where the recipe has no such pass. */
export function aimBracketAt(pass: i32): void {
  if (pass >= 0 && pass < i32(recipeBeginAt(activeRecipe).passes)) chosen.bracketPass = pass;
}
