/** The one place that switches the lamp, and what goes with it: safelight, a dark display, the flash at peace. */
import { displayLight, exposeUs, focusUs, lampOff, safelight } from '../board';
import { SettingName } from '../generated/constants';
import { noticeLamp } from '../protocol/notices';
import { settingValue } from '../settings/settings';
import { lampIsOff, lampIsOn } from '../storage/flash-queue';

export enum Lit {
  No,
  Paper,
  Focus,
}

/** What the lamp is on for, until the board has said that it is off. */
export let lit: Lit = Lit.No;
export let litSinceUs: i64 = 0;
let roomIsDark: bool = false;

/** After power-up; the board has the lamp off already, and this makes sure. */
export function startLampControl(): void {
  lampOff();
  lit = Lit.No;
  roomIsDark = false;
  safelight(true);
  displayLight(settingValue(SettingName.DisplayLight));
}

/** Light on the paper for `onUs`; only while `lit` is No. */
export function lightPaper(onUs: u32, nowUs: i64): void {
  lights(Lit.Paper, nowUs);
  if (settingValue(SettingName.Blackout) != 0) displayLight(0);
  exposeUs(onUs);
  noticeLamp(true, 0, nowUs);
}

/** Light to compose and focus by, up to the limit of the settings; only while `lit` is No. */
export function lightFocus(nowUs: i64): void {
  lights(Lit.Focus, nowUs);
  focusUs(<u32>settingValue(SettingName.FocusLimitS) * 1_000_000);
  noticeLamp(true, 0, nowUs);
}

/** Lamp off at once; that it is off, and how long it was on, comes as `lampIsOut`. */
export function putOut(): void {
  lampOff();
}

/** The board says that the lamp is off. Answers what it was on for. */
export function lampIsOut(onUs: u32, nowUs: i64): Lit {
  const was = lit;
  lit = Lit.No;
  lampIsOff();
  noticeLamp(false, onUs, nowUs);
  return was;
}

/** Safelight and display are as they are without the lamp; between the pulses of one pass they stay dark. */
export function lightRoom(): void {
  if (!roomIsDark || lit != Lit.No) return;
  roomIsDark = false;
  safelight(true);
  displayLight(settingValue(SettingName.DisplayLight));
}

function lights(purpose: Lit, nowUs: i64): void {
  lit = purpose;
  litSinceUs = nowUs;
  roomIsDark = true;
  lampIsOn();
  if (settingValue(SettingName.SafelightFollows) != 0) safelight(false);
}
