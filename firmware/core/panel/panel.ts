/**
 * What the panel shows in each state: row 0 says in words what the pedal does next, row 1 the seconds, rows 2
 * and 3 where the evening stands. Written for wet hands at arm's length in red light: few words, always in the
 * same places.
 */

import { jobIsOfRecipe } from '../evening/job';
import { Lit, lit, litSinceUs } from '../evening/lamp-control';
import { situation } from '../evening/situation';
import { RunState, SettingName } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { settingValue } from '../settings/settings';
import { putCountdown } from './figures';
import { drawPass } from './pass-rows';
import { promise } from './promise';
import { drawReading } from './reading-rows';
import { drawDone, drawRest } from './rest-rows';
import { beginRow, put, putByte, putNumber, showRows } from './row';
import { drawStep } from './step-rows';

export function drawPanel(nowUs: i64): void {
  beginRow(0);
  put(promise());
  beginRow(1);
  beginRow(2);
  beginRow(3);
  drawState(nowUs);
  showRows();
}

function drawState(nowUs: i64): void {
  switch (situation.state) {
    case RunState.Rest:
      drawRest(nowUs);
      return;
    case RunState.Focus:
      drawFocus();
      return;
    case RunState.LensCheck:
      drawLensCheck();
      return;
    case RunState.Choosing:
      drawReading();
      return;
    case RunState.Done:
      drawDone(nowUs);
      return;
    case RunState.Stuck:
      drawStuck();
      return;
    case RunState.StepReady:
    case RunState.Timing:
      drawStep(nowUs);
      return;
    default:
      drawPass();
      return;
  }
}

function drawFocus(): void {
  const limitUs = <i64>settingValue(SettingName.FocusLimitS) * 1_000_000;
  beginRow(1);
  putCountdown(lit == Lit.Focus ? limitUs - (situation.toldUs - litSinceUs) : limitUs);
  put(ascii(' left'));
  beginRow(2);
  put(ascii('Compose and focus,'));
  beginRow(3);
  put(ascii('lens wide open'));
}

function drawLensCheck(): void {
  beginRow(1);
  put(ascii('Stop the lens down'));
  beginRow(2);
  const aperture10 = i32(recipeHeadAt(activeRecipe).aperture10);
  if (jobIsOfRecipe() && aperture10 != 0) {
    put(ascii('to f/'));
    putNumber(aperture10 / 10);
    if (aperture10 % 10 != 0) {
      putByte(0x2e);
      putNumber(aperture10 % 10);
    }
  }
  beginRow(3);
  put(ascii('before any paper'));
}

function drawStuck(): void {
  beginRow(1);
  put(ascii('It is down too long'));
  beginRow(2);
  put(ascii('or stuck.'));
  beginRow(3);
  put(ascii('The lamp is off.'));
}
