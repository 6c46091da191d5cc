/** What the next press of the pedal will do, in at most 20 columns. */

import { closingStops } from '../evening/reading';
import { Refusal, situation } from '../evening/situation';
import { lensIsFine } from '../evening/transitions';
import { Job, RunState } from '../generated/constants';

export function promise(): string {
  if (situation.startWanted) return 'Press: call it off';
  switch (situation.state) {
    case RunState.Rest:
      return atRest();
    case RunState.Focus:
      return 'Press: light off';
    case RunState.LensCheck:
      return 'Hold: lens is closed';
    case RunState.Ready:
      return 'Tap start Hold back';
    case RunState.Exposing:
      return 'Press pause Hold end';
    case RunState.Paused:
    case RunState.BetweenDodges:
      return 'Tap go on Hold end';
    case RunState.Choosing:
      return closingStops == 0 ? 'Tap takes Hold rest' : 'Tap closed Hold rest';
    case RunState.Done:
      return 'Tap again Hold rest';
    default:
      return 'Let go of the pedal';
  }
}

function atRest(): string {
  if (situation.refusal != Refusal.None) return 'Hold: light';
  if (!lensIsFine()) return 'Tap lens Hold light';
  return situation.job == Job.Strip ? 'Tap strip Hold light' : 'Tap print Hold light';
}
