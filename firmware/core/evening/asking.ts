/** What the knob is asked beside any light: it turns to the answer, and a push or a tap takes it. */
import { RunState } from '../generated/constants';
import { countsAsPrint, isOfRecipe } from '../jobs/kinds';
import { beginKeepAs, turnKeepAs } from '../jobs/recipe/keep-as';
import { clicksOfTurn } from '../knob/turn-speed';
import { hasRecipe } from '../recipe/recipe';
import { Due, Question } from '../state/situation';
import { situation } from '../state/state';
import { enter, goToRest } from './enter';
import { keepAsChosen } from './keep';

/** Under which name what is chosen is to be kept; false where there is nothing to keep. */
export function askKeepAs(nowUs: i64): bool {
  const job = situation.job;
  const isRecipe = isOfRecipe(job) && hasRecipe();
  if (!isRecipe && (isOfRecipe(job) || !countsAsPrint(job))) return false;
  beginKeepAs(isRecipe);
  ask(Question.KeepAs, nowUs);
  return true;
}

function ask(question: Question, nowUs: i64): void {
  situation.question = question;
  situation.askedIn = situation.state;
  enter(RunState.Asking, nowUs);
}

export function turnAnswer(clicks: i32): void {
  turnKeepAs(clicksOfTurn(clicks));
}

/** It is so. */
export function takeAnswer(nowUs: i64): void {
  situation.due = keepAsChosen() ? Due.End : Due.Wrong;
  leaveQuestion(nowUs);
}

/** Back to where it was asked. */
export function leaveQuestion(nowUs: i64): void {
  if (situation.askedIn == RunState.Done) enter(RunState.Done, nowUs);
  else goToRest(nowUs);
}
