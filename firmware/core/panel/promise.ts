/** What the next press of the pedal will do, in at most 20 columns. */

import { closingStops } from '../evening/reading';
import { Refusal, situation } from '../evening/situation';
import { lensIsFine } from '../evening/transitions';
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
      return ascii('Tap again Hold rest');
    default:
      return ascii('Let go of the pedal');
  }
}

function atRest(): usize {
  if (situation.refusal != Refusal.None) return ascii('Hold: light');
  if (!lensIsFine()) return ascii('Tap lens Hold light');
  return situation.job == Job.Strip ? ascii('Tap strip Hold light') : ascii('Tap print Hold light');
}
