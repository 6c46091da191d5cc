/**
 * A setting of the board as people write it, with its unit or without: '60ms' or '60', '3min' or '180', '60%', 'on',
 * '8x10in' for an area, '20C' or '68F' for a temperature, against the whole number that the board keeps.
 */
import { limits } from '../../../shared-protocol/limits.js';
import {
  type SettingName,
  settingAllows,
  settingRange,
  settings,
} from '../../../shared-protocol/settings.js';
import { anyTemperatureC10, formatDegreesC } from '../baths/temperature-text.js';
import { readPrintSize, SizeError } from '../print-size.js';
import { readTime } from './time-text.js';
import { UnreadableText } from './unreadable-text.js';

const SWITCH: Readonly<Record<string, number>> = { on: 1, yes: 1, off: 0, no: 0 };
/** How many milliseconds one of a setting's own unit is. */
const TIME_UNIT_MS: Readonly<Record<string, number>> = { ms: 1, s: 1000, min: 60_000 };
const NUMBER = /^([+\-\u2212]?)\s*(\d{1,10})$/;
const NEVER = 'never';
/** A temperature is kept in tenths of a degree; without its unit it is in whole degrees. */
const TEMPERATURE = '0.1 C';
const NOT_MEASURED = 'off';

/**
 * Reads what a setting is to be.
 * @throws UnreadableText for what the setting cannot be, with what it can.
 */
export function readSetting(name: SettingName, text: string): number {
  const value = numberIn(name, text.trim().toLowerCase());
  if (value !== undefined && settingAllows(name, value)) return value;
  throw new UnreadableText(`'${text}' is not possible; ${boundsWithUnit(name)}`);
}

/** A value as people read it: 'on', '60 ms', 'never'. */
export function formatSetting(name: SettingName, value: number): string {
  if (isSwitch(name)) return value === 0 ? 'off' : 'on';
  const { unit } = settings[name];
  if (canBeNever(name) && value === -1) return NEVER;
  if (unit === TEMPERATURE) return value === 0 ? NOT_MEASURED : formatDegreesC(value);
  return unit === '' ? `${value}` : `${value} ${unit}`;
}

/** What a setting can be, without its unit: 'on or off', '10 to 900'. */
export function settingBounds(name: SettingName): string {
  if (settings[name].unit === TEMPERATURE)
    return `${NOT_MEASURED}, or ${formatDegreesC(limits.coldestC10)} to ${formatDegreesC(limits.warmestC10)}`;
  return isSwitch(name) ? 'on or off' : settingRange(name);
}

function boundsWithUnit(name: SettingName): string {
  const { unit } = settings[name];
  return `${settingBounds(name)}${unit && unit !== TEMPERATURE ? ` ${unit}` : ''}`;
}

function isSwitch(name: SettingName): boolean {
  const { min, max, unit } = settings[name];
  return min === 0 && max === 1 && unit === '';
}

/** Below nothing there is one value, for what was never done. */
function canBeNever(name: SettingName): boolean {
  return settings[name].min === -1;
}

function numberIn(name: SettingName, text: string): number | undefined {
  const { unit } = settings[name];
  if (unit === TEMPERATURE)
    return text === NOT_MEASURED ? 0 : anyTemperatureC10(/(^|[a-z])$/.test(text) ? text : `${text}C`);
  // Minutes may be more than the longest time there is for an exposure.
  const [, sign, digits] = NUMBER.exec(unit === 'min' ? text.replace(/\s*min$/, '') : text) ?? [];
  if (digits !== undefined) return Number(digits) * signOf(sign) + 0; // no negative zero
  if (isSwitch(name)) return SWITCH[text];
  if (canBeNever(name) && text === NEVER) return -1;
  if (unit in TIME_UNIT_MS) return timeIn(TIME_UNIT_MS[unit]!, text);
  if (unit === 'cm2') return sizeCm2(text);
  return text.endsWith(unit) ? numberIn(name, text.slice(0, -unit.length).trim() || '?') : undefined;
}

/** The sign may be a typographer's minus. */
function signOf(sign: string | undefined): 1 | -1 {
  return sign === '-' || sign === '\u2212' ? -1 : 1;
}

/** A time in the setting's unit; the lamp's lag may be below nothing. */
function timeIn(unitMs: number, text: string): number | undefined {
  const [, sign, size = ''] = /^([+\-\u2212]?)\s*(.*)$/s.exec(text)!;
  if (/^0+\s*(ms|s|m|min|h)$/.test(size)) return 0;
  try {
    return signOf(sign) * (readTime(size) / unitMs);
  } catch (error) {
    if (error instanceof UnreadableText) return undefined;
    throw error;
  }
}

function sizeCm2(text: string): number | undefined {
  const area = /^(\d{1,6})\s*cm[2\u00b2]$/.exec(text);
  if (area !== null) return Number(area[1]);
  try {
    const { shortMm, longMm } = readPrintSize(text);
    return Math.round((shortMm * longMm) / 100);
  } catch (error) {
    if (error instanceof SizeError) throw new UnreadableText(error.message);
    throw error;
  }
}
