/** What the next press of the pedal will do, in at most 20 columns. */

import { jobBeforeBaths } from '../evening/processing';
import { closingStops } from '../evening/reading';
import { Refusal, situation } from '../evening/situation';
import { bathsAreNext, lensIsFine, sheetIsRead } from '../evening/transitions';
import { Job, RunState } from '../generated/constants';
import { ascii } from '../protocol/texts';

export function promise(): usize {
  if (situation.startWanted) return ascii('Press: call it off');
  switch (situation.state) {
    case RunState.Rest:
      return atRest();
    case RunState.Focus:
      return ascii('Press: light off');
    case RunState.LensCheck:
      return ascii('Hold: lens is closed');
    case RunState.Ready:
      return ascii('Tap start Hold back');
    case RunState.Exposing:
      return ascii('Press pause Hold end');
    case RunState.Paused:
    case RunState.BetweenDodges:
      return ascii('Tap go on Hold end');
    case RunState.Choosing:
      return closingStops == 0 ? ascii('Tap takes Hold rest') : ascii('Tap closed Hold rest');
    case RunState.Done:
      return whenDone();
    case RunState.StepReady:
      return situation.job == Job.Process ? ascii('Tap bath Hold back') : ascii('Tap begin Hold back');
    case RunState.Timing:
      return situation.job == Job.Process ? ascii('Tap next Hold back') : ascii('Hold: back to rest');
    default:
      return ascii('Let go of the pedal');
  }
}

function atRest(): usize {
  if (situation.refusal != Refusal.None) return ascii('Hold: light');
  if (situation.job == Job.Process) return ascii('Tap baths Hold light');
  if (!lensIsFine()) return ascii('Tap lens Hold light');
  switch (situation.job) {
    case Job.Strip:
      return ascii('Tap strip Hold light');
    case Job.Recipe:
      return ascii('Tap print Hold light');
    case Job.Bracket:
      return ascii('Tap sheet Hold light');
    default:
      return ascii('Tap test Hold light');
  }
}

function whenDone(): usize {
  if (bathsAreNext()) return ascii('Tap baths Hold rest');
  if (sheetIsRead()) return ascii('Tap read Hold rest');
  return jobBeforeBaths == Job.None ? ascii('Tap again Hold rest') : ascii('Tap sheet Hold rest');
}
