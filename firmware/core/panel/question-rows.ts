/** What the knob is asked beside any light: rows 1 to 3. */
import { drawCheckupStep } from '../jobs/checkup/checkup-rows';
import { drawCalendar } from '../jobs/clock/clock-rows';
import { isOfRecipe } from '../jobs/kinds';
import { keepAsName, keepAsReplaces } from '../jobs/recipe/keep-as';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { beginRow, put, putNumber, putText } from '../rows/row';
import { Question } from '../state/situation';
import { chosen, situation } from '../state/state';

export function drawQuestion(): void {
  if (situation.question == Question.Way) drawWay();
  else if (situation.question == Question.Clock) drawCalendar();
  else if (situation.question == Question.Checkup) drawCheckupStep();
  else drawKeepAs();
}

/** "New firmware? / Yes: 3 clicks right / No lamp until done" */
function drawWay(): void {
  put(ascii('New firmware?'));
  beginRow(2);
  put(ascii('Yes: 3 clicks right'));
  drawNoLamp();
}

/** "New firmware comes / Do not unplug / No lamp until done" */
export function drawLeaving(): void {
  put(ascii('New firmware comes'));
  beginRow(2);
  put(ascii('Do not unplug'));
  drawNoLamp();
}

function drawNoLamp(): void {
  beginRow(3);
  put(ascii('No lamp until done'));
}

/** "Turn: another name / negative-7 / over version 3" */
function drawKeepAs(): void {
  put(ascii('Turn: another name'));
  beginRow(2);
  putText(keepAsName());
  beginRow(3);
  if (!keepAsReplaces()) {
    const isWithoutVersion = isOfRecipe(situation.job) && !chosen.keepsOwnName;
    put(isWithoutVersion ? ascii('new: no version left') : ascii('new on the board'));
  } else if (chosen.recipeIsChanged) {
    put(ascii('over version '));
    putNumber(recipeHeadAt(activeRecipe).version);
  } else {
    put(ascii('is kept as it is'));
  }
}
