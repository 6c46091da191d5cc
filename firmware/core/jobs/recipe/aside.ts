/** The place of a recipe that another one took the place of, until the shelf has it. */
import { RECIPE_BODY_BYTES } from '../../recipe/recipe';
import { Unkept } from '../../state/keeping';
import { keeping } from '../../state/state';

export const aside: usize = memory.data(RECIPE_BODY_BYTES, 8);

/** It waits for the shelf, or is being written. */
export function hasAside(): bool {
  return keeping.aside || (keeping.waiting & Unkept.Aside) != 0;
}
