/** What the knob is asked beside any light: it turns to the answer, and a tap takes it, or a push where nothing is left to turn. */
import {
  beginCalendar,
  calendarMs,
  goToNextCalendarFigure,
  tellCalendar,
  turnCalendar,
} from '../jobs/clock/calendar-figures';
import { countsAsPrint, isOfRecipe } from '../jobs/kinds';
import { beginKeepAs, turnKeepAs } from '../jobs/recipe/keep-as';
import { clicksOfTurn } from '../knob/turn-speed';
import { logClock } from '../log/entries';
import { hasRecipe } from '../recipe/recipe';
import { Due, Question } from '../state/situation';
import { situation } from '../state/state';
import { pushCheckup, tapCheckup, turnCheckup } from './checking';
import { keepAsChosen } from './keep';
import { turnToLeave } from './making-way';
import { ask, leaveQuestion } from './question';

/** Under which name what is chosen is to be kept; false where there is nothing to keep. */
export function askKeepAs(nowUs: i64): bool {
  const job = situation.job;
  const isRecipe = isOfRecipe(job) && hasRecipe();
  if (!isRecipe && (isOfRecipe(job) || !countsAsPrint(job))) return false;
  beginKeepAs(isRecipe);
  ask(Question.KeepAs, nowUs);
  return true;
}

export function askDate(nowUs: i64): void {
  beginCalendar(nowUs);
  ask(Question.Clock, nowUs);
}

export function turnAnswer(clicks: i32, nowUs: i64): void {
  if (situation.question == Question.Way) turnToLeave(clicks, nowUs);
  else if (situation.question == Question.Checkup) turnCheckup(clicks);
  else if (situation.question == Question.Clock) turnCalendar(clicks);
  else turnKeepAs(clicksOfTurn(clicks));
}

/** On to what is asked next, or so be it. */
export function pushAnswer(nowUs: i64): void {
  if (situation.question == Question.Checkup) {
    pushCheckup(nowUs);
    return;
  }
  if (situation.question != Question.Clock || !goToNextCalendarFigure()) takeAnswer(nowUs);
}

/** It is so; whether the board is to make way is answered by turning alone. */
export function takeAnswer(nowUs: i64): void {
  if (situation.question == Question.Checkup) {
    tapCheckup(nowUs);
    return;
  }
  if (situation.question == Question.Way) {
    leaveQuestion(nowUs);
    return;
  }
  const isTaken = situation.question == Question.Clock ? takeCalendar(nowUs) : keepAsChosen();
  situation.due = isTaken ? Due.End : Due.Wrong;
  leaveQuestion(nowUs);
}

/** The same mark in the log as a laptop's. */
function takeCalendar(nowUs: i64): bool {
  const epochMs = calendarMs();
  if (!logClock(epochMs, nowUs)) return false;
  tellCalendar(epochMs, nowUs);
  return true;
}
