/**
 * What the panel shows in each state: row 0 says in words what the pedal does next, row 1 the seconds, rows 2
 * and 3 where the evening stands. Written for wet hands at arm's length in red light: few words, always in the
 * same places.
 */
import { RunState } from '../generated/constants';
import { drawReading, drawStep } from '../jobs/kinds-shown';
import { drawStoppingDown } from '../jobs/strip/strip-rows';
import { ascii } from '../protocol/texts';
import { beginRow, put, showRows } from '../rows/row';
import { reading, situation } from '../state/state';
import { storageIsForeign } from '../storage/format-mark';
import { drawForeign } from './foreign-rows';
import { drawFocus, drawLensCheck } from './lens-rows';
import { drawPass } from './pass-rows';
import { prompt } from './prompt';
import { drawLeaving, drawQuestion } from './question-rows';
import { drawDone, drawRest } from './rest-rows';

export function drawPanel(nowUs: i64): void {
  beginRow(3);
  beginRow(2);
  beginRow(0);
  put(prompt());
  beginRow(1);
  drawState(nowUs);
  showRows();
}

/** Row 1 is begun, the others are blank. */
function drawState(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      if (storageIsForeign()) drawForeign();
      else drawRest(nowUs);
      return;
    case RunState.Focus:
      drawFocus();
      return;
    case RunState.LensCheck:
      drawLensCheck();
      return;
    case RunState.Choosing:
      if (reading.stopsDown != 0) drawStoppingDown();
      else drawReading(situation.job);
      return;
    case RunState.Asking:
      drawQuestion();
      return;
    case RunState.Leaving:
      drawLeaving();
      return;
    case RunState.Done:
      drawDone(nowUs);
      return;
    case RunState.Stuck:
      drawStuck();
      return;
    case RunState.StepReady:
    case RunState.Timing:
      drawStep(situation.job, nowUs);
      return;
    default:
      drawPass();
  }
}

function drawStuck(): void {
  put(ascii('Pedal held too long'));
  beginRow(2);
  put(ascii('or stuck.'));
  beginRow(3);
  put(ascii('The lamp is off.'));
}
