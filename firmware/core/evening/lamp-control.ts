/** The one place that switches the lamp, and what goes with it: safelight, a dark display, the flash at peace. */
import { brightnessAfter, warmthAfter } from '../arithmetic/lamp';
import { displayLight, exposeUs, focusUs, lampOff, safelight } from '../board';
import { SettingName } from '../generated/constants';
import { noticeLamp } from '../protocol/notices';
import { settingValue } from '../settings/settings';
import { Lit } from '../state/light';
import { light } from '../state/state';
import { allowFlash, forbidFlash } from '../storage/flash-queue';
import { isSafelightOff } from './safelight-off';

/** After power-up; the board has the lamp off already, and this makes sure. */
export function startLampControl(): void {
  lampOff();
  safelight(true);
  displayLight(settingValue(SettingName.DisplayLight));
}

/** How bright the lamp still is, 0 to 1; only while nothing is lit. */
export function lampWarmth(nowUs: i64): f64 {
  return warmthAfter(nowUs - light.offUs, light.brightness);
}

/** Light on the paper for `onUs`; only while nothing is lit. */
export function lightPaper(onUs: u32, nowUs: i64): void {
  beginLight(Lit.Paper, nowUs);
  if (settingValue(SettingName.Blackout) != 0) displayLight(0);
  exposeUs(onUs);
  noticeLamp(true, 0, nowUs);
}

/** Light to compose and focus by, up to the limit of the settings; only while nothing is lit. */
export function lightFocus(nowUs: i64): void {
  beginLight(Lit.Focus, nowUs);
  focusUs(<u32>settingValue(SettingName.FocusLimitS) * 1_000_000);
  noticeLamp(true, 0, nowUs);
}

/** Lamp off at once; that it is off, and how long it was on, comes as `endLight`. */
export function putOut(): void {
  lampOff();
}

/** The board says that the lamp is off. Answers what it was on for. */
export function endLight(onUs: u32, nowUs: i64): Lit {
  const was = light.lit;
  light.lit = Lit.No;
  light.brightness = brightnessAfter(onUs, light.warmth);
  light.offUs = nowUs;
  allowFlash();
  noticeLamp(false, onUs, nowUs);
  return was;
}

/** Safelight and display are as they are without the lamp; between the pulses of one pass they stay dark. */
export function lightRoom(): void {
  if (light.lit != Lit.No) return;
  switchSafelight(!isSafelightOff());
  if (!light.roomIsDark) return;
  light.roomIsDark = false;
  displayLight(settingValue(SettingName.DisplayLight));
}

function switchSafelight(on: bool): void {
  if (on != light.safelightIsOut) return;
  light.safelightIsOut = !on;
  safelight(on);
}

function beginLight(purpose: Lit, nowUs: i64): void {
  light.lit = purpose;
  light.warmth = lampWarmth(nowUs);
  light.sinceUs = nowUs;
  light.roomIsDark = true;
  forbidFlash();
  if (settingValue(SettingName.SafelightFollows) != 0) switchSafelight(false);
}
