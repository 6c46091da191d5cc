/** What the next press of the pedal will do, in at most 20 columns. */
import { Asked, askedBeforeLight } from '../evening/what-is-asked';
import { bathsAreNext, lensIsFine, sheetIsReadNext } from '../evening/what-is-next';
import { Job, RunState } from '../generated/constants';
import { checkupPrompt } from '../jobs/checkup/checkup-rows';
import { isWithoutLight } from '../jobs/kinds';
import { restPrompt, stepReadyPrompt, timingPrompt } from '../jobs/kinds-shown';
import { ascii } from '../protocol/texts';
import { Question, Refusal } from '../state/situation';
import { left, reading, situation, timed } from '../state/state';

export function prompt(): usize {
  if (situation.startWanted) return ascii('Press: cancel');
  switch (situation.state) {
    case RunState.Rest:
      return atRest();
    case RunState.Focus:
      return ascii('Press: light off');
    case RunState.LensCheck:
      return ascii('Stopped down? Hold');
    case RunState.Ready:
      return whenReady();
    case RunState.Exposing:
      return ascii('Press pause Hold end');
    case RunState.Paused:
    case RunState.BetweenDodges:
      return ascii('Tap go on Hold end');
    case RunState.Choosing:
      return reading.stopsDown == 0 ? ascii('Tap accept Hold rest') : ascii('Tap done Hold rest');
    case RunState.Asking:
      return whenAsked();
    case RunState.Leaving:
      return ascii('Wait for the laptop');
    case RunState.Done:
      return whenDone();
    case RunState.StepReady:
      return stepReadyPrompt(situation.job);
    case RunState.Timing:
      return timingPrompt(situation.job);
    default:
      return ascii('Let go of the pedal');
  }
}

function atRest(): usize {
  if (left.isOffered) return lensIsFine() ? ascii('Tap go on Hold focus') : ascii('Tap lens Hold focus');
  if (situation.refusal != Refusal.None) return ascii('Turn knob Hold focus');
  return lensIsFine() || isWithoutLight(situation.job)
    ? restPrompt(situation.job)
    : ascii('Tap lens Hold focus');
}

function whenAsked(): usize {
  switch (situation.question) {
    case Question.Way:
      return ascii('Tap no Hold rest');
    case Question.Clock:
      return ascii('Tap set Hold rest');
    case Question.Checkup:
      return checkupPrompt();
    default:
      return ascii('Tap keep Hold rest');
  }
}

function whenReady(): usize {
  switch (askedBeforeLight()) {
    case Asked.Nothing:
      return ascii('Tap start Hold back');
    case Asked.Filter:
      return ascii('Filter in? Tap');
    case Asked.LeaveOut:
    case Asked.Again:
      return ascii('Tap yes Hold back');
    default:
      return ascii('Tap done Hold back');
  }
}

function whenDone(): usize {
  if (bathsAreNext()) return ascii('Tap baths Hold rest');
  if (sheetIsReadNext()) return ascii('Tap read Hold rest');
  return timed.jobBefore == Job.None ? ascii('Tap again Hold rest') : ascii('Tap sheet Hold rest');
}
