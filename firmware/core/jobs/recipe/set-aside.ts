/**
 * A base that was found on paper, and not kept yet, is not lost to a recipe that takes its place, from the shelf, by the
 * knob or from a laptop: the shelf gets it in the background, under a name that nothing else has.
 */
import { activeRecipe, nameInUse, nameRecipe, RECIPE_BODY_BYTES, recipeHeadAt } from '../../recipe/recipe';
import { Unkept } from '../../state/keeping';
import { chosen, keeping } from '../../state/state';
import { DocumentKind, findDocument } from '../../storage/shelf';
import { aside, hasAside } from './aside';
import { firstFreeNegative, negativeName } from './negatives';

/** To be asked before another recipe is in use; false while one that was set aside before is still being kept. */
export function setAside(): bool {
  if (!chosen.baseIsFound) return true;
  if (hasAside()) return false;
  memory.copy(aside, activeRecipe, RECIPE_BODY_BYTES);
  const head = recipeHeadAt(aside);
  head.version++; // to 0 behind the last one
  if (head.version == 0 || findDocument(DocumentKind.Recipe, nameInUse()) >= 0) {
    nameRecipe(aside, negativeName(firstFreeNegative()));
    head.version = 1;
  }
  keeping.waiting |= Unkept.Aside;
  chosen.baseIsFound = false;
  return true;
}
