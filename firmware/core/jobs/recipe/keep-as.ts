/** The name under which a print is kept: the one that it has, or that of a negative that has no recipe yet. */
import { activeRecipe, hasRecipe, hasVersionLeft, nameInUse } from '../../recipe/recipe';
import { chosen } from '../../state/state';
import { DocumentKind, describeDocument, findDocument } from '../../storage/shelf';
import { firstFreeNegative, isFreeNegative, MOST_NEGATIVES, negativeName } from './negatives';

export const OWN_NAME: i32 = 0;

/** Where the knob begins: at its own name, where it is of a recipe that can have another version. */
export function beginKeepAs(isOfRecipe: bool): void {
  const isOwn = isOfRecipe && hasRecipe() && hasVersionLeft(activeRecipe);
  chosen.keepAs = isOwn ? OWN_NAME : firstFreeNegative();
  chosen.keepsOwnName = chosen.keepAs == OWN_NAME;
}

/** Past the numbers that are taken; stops at either end. */
export function turnKeepAs(clicks: i32): void {
  const way = clicks < 0 ? -1 : 1;
  for (let left = abs(clicks); left > 0; left--) {
    let next = chosen.keepAs + way;
    while (next > OWN_NAME && next <= MOST_NEGATIVES && !isFreeNegative(next)) next += way;
    if (next > MOST_NEGATIVES || (next == OWN_NAME && !chosen.keepsOwnName) || next < OWN_NAME) return;
    chosen.keepAs = next;
  }
}

/** A text. */
export function keepAsName(): usize {
  return chosen.keepAs == OWN_NAME ? nameInUse() : negativeName(chosen.keepAs);
}

/** The shelf has something of that name, which would be replaced. */
export function keepAsReplaces(): bool {
  return describeDocument(findDocument(DocumentKind.Recipe, keepAsName()));
}
