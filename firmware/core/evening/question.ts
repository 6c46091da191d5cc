/** The knob is asked something beside any light, and is asked no more. */
import { RunState } from '../generated/constants';
import { Question } from '../state/situation';
import { situation } from '../state/state';
import { enter, goToRest } from './enter';

export function ask(question: Question, nowUs: i64): void {
  situation.question = question;
  situation.askedIn = situation.state;
  enter(RunState.Asking, nowUs);
}

/** Back to where it was asked. */
export function leaveQuestion(nowUs: i64): void {
  if (situation.askedIn == RunState.Done) enter(RunState.Done, nowUs);
  else goToRest(nowUs);
}
