/** The way through the checkup. The relays click only after the printer has said that the mains box is unplugged. */
import { displayLight } from '../board';
import { CheckupStep, RunState } from '../generated/constants';
import {
  beginCheckupStep,
  countBadSectors,
  countClicks,
  hasTurnedLeft,
  isSwapped,
  pedalWasSeen,
  tellChecked,
} from '../jobs/checkup/checkup';
import { beginPass } from '../plan/giving';
import { Due, Question } from '../state/situation';
import { checkup, given, keeping, light, situation } from '../state/state';
import { setTimer, Timer } from '../timers/timers';
import { forgetKeptDesk } from './desk';
import { enter, goToRest, SECOND_US } from './enter';
import { lightRoom } from './lamp-control';

/** The display's light goes out by so much a second, and comes back. */
const FADE_PERCENT: i32 = 33;

export function startCheckup(nowUs: i64): void {
  situation.question = Question.Checkup;
  checkup.faults = 0;
  checkup.isUnwritten = true;
  // So that it is written anew, to a sector that is free; unless something is, which must stay as it is meanwhile.
  if (!keeping.inBackground) forgetKeptDesk();
  enterStep(CheckupStep.Pedal, nowUs);
}

function enterStep(step: CheckupStep, nowUs: i64): void {
  beginCheckupStep(step);
  enter(RunState.Asking, nowUs);
  setTimer(Timer.Second, nowUs + SECOND_US);
}

/** A second of a step has gone by: light, tone and safelight are to be seen and heard again and again. */
export function countCheckupSecond(): void {
  checkup.seconds++;
  if (checkup.step == CheckupStep.Tone) situation.due = Due.End;
  if (checkup.step != CheckupStep.Display) {
    lightRoom();
    return;
  }
  light.roomIsDark = true;
  displayLight((3 - (checkup.seconds & 3)) * FADE_PERCENT);
}

export function turnCheckup(clicks: i32): void {
  if (checkup.step == CheckupStep.Knob) countClicks(clicks);
}

/** Yes; but at the knob it says that there is something missing. */
export function tapCheckup(nowUs: i64): void {
  const step = checkup.step;
  if (step == CheckupStep.Pedal && !pedalWasSeen(nowUs)) return;
  endStep(step == CheckupStep.Flash ? flashIsFine() : step != CheckupStep.Knob, nowUs);
}

/** No; but at the knob it is what was missing. */
export function pushCheckup(nowUs: i64): void {
  const isKnob = checkup.step == CheckupStep.Knob;
  if (!isKnob || hasTurnedLeft()) endStep(isKnob && !isSwapped(), nowUs);
}

/** All of it can be written, as far as it was tried. */
function flashIsFine(): bool {
  return checkup.first == 0 && !checkup.isUnwritten;
}

function endStep(isFine: bool, nowUs: i64): void {
  const next = checkup.step + 1;
  tellChecked(isFine);
  if (next > CheckupStep.Lamp || (next == CheckupStep.Safelight && !isFine)) {
    goToRest(nowUs);
    return;
  }
  enterStep(next, nowUs);
  if (next == CheckupStep.Lamp) {
    given.passes = 0;
    beginPass(0);
    enter(RunState.Ready, nowUs);
  } else if (next == CheckupStep.Flash) countBadSectors();
}
