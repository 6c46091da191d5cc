/** What the knob is asked beside any light: rows 1 to 3. */
import { keepAsName, keepAsReplaces } from '../jobs/recipe/keep-as';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { beginRow, put, putNumber, putText } from '../rows/row';
import { chosen } from '../state/state';

/** "Turn: another name / negative-7 / replaces version 3" */
export function drawQuestion(): void {
  put(ascii('Turn: another name'));
  beginRow(2);
  putText(keepAsName());
  beginRow(3);
  if (!keepAsReplaces()) {
    put(ascii('new on the board'));
  } else if (chosen.recipeIsChanged) {
    put(ascii('replaces version '));
    putNumber(recipeHeadAt(activeRecipe).version);
  } else {
    put(ascii('is kept as it is'));
  }
}
