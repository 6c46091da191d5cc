/** What a tap leads to, where more than the state decides: asked by the pedal's transitions and by its prompt alike. */
import { Job, SettingName } from '../generated/constants';
import { isBaths } from '../jobs/kinds';
import { settingValue } from '../settings/settings';
import { reading, situation, timed } from '../state/state';

/** What was given is to be developed, as far as the board knows. */
export function bathsAreNext(): bool {
  return !isBaths(situation.job) && settingValue(SettingName.BathFollows) != 0;
}

/** Patches that went through the baths are looked at next. */
export function sheetIsReadNext(): bool {
  return isBaths(situation.job) && timed.jobBefore != Job.None && reading.unread == timed.jobBefore;
}

export function lensIsFine(): bool {
  return situation.lensConfirmed || settingValue(SettingName.LensCheck) == 0;
}
