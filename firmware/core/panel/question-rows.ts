/** What the knob is asked beside any light: rows 1 to 3. */
import { drawCheckupStep } from '../jobs/checkup/checkup-rows';
import { drawCalendar } from '../jobs/clock/clock-rows';
import { keepAsName, keepAsReplaces } from '../jobs/recipe/keep-as';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { beginRow, put, putNumber, putText } from '../rows/row';
import { Question } from '../state/situation';
import { chosen, situation } from '../state/state';

export function drawQuestion(): void {
  if (situation.question == Question.Clock) drawCalendar();
  else if (situation.question == Question.Checkup) drawCheckupStep();
  else drawKeepAs();
}

/** "Turn: another name / negative-7 / over version 3" */
function drawKeepAs(): void {
  put(ascii('Turn: another name'));
  beginRow(2);
  putText(keepAsName());
  beginRow(3);
  if (!keepAsReplaces()) {
    put(ascii('new on the board'));
  } else if (chosen.recipeIsChanged) {
    put(ascii('over version '));
    putNumber(recipeHeadAt(activeRecipe).version);
  } else {
    put(ascii('is kept as it is'));
  }
}
