/** The printer's settings: in memory here, kept on the shelf by whoever changes them. */
import {
  SETTING_INITIAL,
  SETTING_MAX,
  SETTING_MIN,
  SETTING_NAME_COUNT,
  settingAllows,
} from '../generated/constants';

export const SETTINGS_BYTES: i32 = SETTING_NAME_COUNT * 4;
/** One i32 a SettingName, as the shelf keeps them. */
export const settingsBody: usize = memory.data(SETTINGS_BYTES, 8);

/** The name (a text) under which the shelf keeps them. */
export const settingsName: usize = memory.data<u8>([8, 0x73, 0x65, 0x74, 0x74, 0x69, 0x6e, 0x67, 0x73]);

export function settingValue(name: i32): i32 {
  return load<i32>(settingsBody + (name << 2));
}

export function settingLeast(name: i32): i32 {
  return load<i16>(SETTING_MIN + (name << 1));
}

export function settingMost(name: i32): i32 {
  return load<i16>(SETTING_MAX + (name << 1));
}

/** False, and nothing changed, when the setting cannot have the value. */
export function changeSetting(name: i32, value: i32): bool {
  if (value < settingLeast(name) || value > settingMost(name) || !settingAllows(name, value)) return false;
  store<i32>(settingsBody + (name << 2), value);
  return true;
}

/** First values everywhere; then whatever `kept` (`length` bytes, perhaps of an older version) holds and they can have. */
export function restoreSettings(kept: usize, length: i32): void {
  for (let name = 0; name < SETTING_NAME_COUNT; name++)
    store<i32>(settingsBody + (name << 2), load<i16>(SETTING_INITIAL + (name << 1)));
  for (let name = 0; name < SETTING_NAME_COUNT && (name + 1) << 2 <= length; name++)
    changeSetting(name, load<i32>(kept + (name << 2)));
}
