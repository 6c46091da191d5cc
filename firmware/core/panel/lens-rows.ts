/** Light to focus by, and the question after it whether the lens has been stopped down. */
import { SettingName } from '../generated/constants';
import { isOfRecipe } from '../jobs/kinds';
import { ascii } from '../protocol/texts';
import { activeRecipe, recipeHeadAt } from '../recipe/recipe';
import { putCountdown } from '../rows/figures';
import { beginRow, put, putByte, putNumber } from '../rows/row';
import { settingValue } from '../settings/settings';
import { Lit } from '../state/light';
import { light, situation } from '../state/state';

export function drawFocus(): void {
  const limitUs = <i64>settingValue(SettingName.FocusLimitS) * 1_000_000;
  putCountdown(light.lit == Lit.Focus ? limitUs - (situation.toldUs - light.sinceUs) : limitUs);
  put(ascii(' left'));
  beginRow(2);
  put(ascii('Compose and focus,'));
  beginRow(3);
  put(ascii('lens wide open'));
}

export function drawLensCheck(): void {
  put(ascii('Stop the lens down'));
  beginRow(2);
  const aperture10 = i32(recipeHeadAt(activeRecipe).aperture10);
  if (isOfRecipe(situation.job) && aperture10 != 0) {
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
