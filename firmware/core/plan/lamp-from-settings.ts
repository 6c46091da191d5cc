/** The lamp as the settings have it; every plan with light in it sets it before anything else. */
import { setLamp } from '../arithmetic/lamp';
import { SettingName } from '../generated/constants';
import { settingValue } from '../settings/settings';

export function setLampFromSettings(): void {
  setLamp(settingValue(SettingName.LampLagMs), settingValue(SettingName.LampRiseMs));
}
