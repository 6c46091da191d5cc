/** The date and the time by the knob, from left to right as they are shown, each of them round and round. */
import { SettingName } from '../../generated/constants';
import { changeSetting, settingLeast, settingMost, settingValue } from '../../settings/settings';
import { Unkept } from '../../state/keeping';
import { calendar, keeping } from '../../state/state';
import { daysOfMonth, daysToDate, daysToYear, yearOfDay } from '../../timers/civil-time';

export enum CalendarFigure {
  Year,
  Month,
  Day,
  Hour,
  Minute,
  /** By how much that is ahead of UTC. */
  Zone,
}

const FIRST_YEAR: i32 = 2020;
const LAST_YEAR: i32 = 2099;
/** Where the knob begins on a board that was never told. */
const USUAL_YEAR: i32 = 2027;
const USUAL_HOUR: i32 = 20;

const MINUTE_MS: i64 = 60_000;
const DAY_MINUTES: i32 = 24 * 60;
/** Every zone is whole quarters of an hour from UTC (the time zone database of the IANA; from memory). */
const ZONE_STEP_MINUTES: i32 = 15;

export function zoneMinutes(): i32 {
  return settingValue(SettingName.ZoneMinutes);
}

/** Told by a laptop or by the knob. */
export function tellCalendar(epochMs: i64, nowUs: i64): void {
  calendar.startedMs = epochMs - nowUs / 1000;
  calendar.isTold = true;
}

/** From the time as it is, where that is known and one that the knob can turn to. */
export function beginCalendar(nowUs: i64): void {
  calendar.figure = CalendarFigure.Year;
  const minutes = (calendar.startedMs + nowUs / 1000) / MINUTE_MS + zoneMinutes();
  const days = i32(minutes / DAY_MINUTES);
  if (calendar.isTold && days >= daysToYear(FIRST_YEAR) && days < daysToYear(LAST_YEAR + 1))
    setDate(days, i32(minutes % DAY_MINUTES));
  else setDate(daysToDate(USUAL_YEAR, 1, 1), USUAL_HOUR * 60);
}

function setDate(days: i32, minutes: i32): void {
  calendar.year = yearOfDay(days);
  calendar.month = 1;
  let day = days - daysToYear(calendar.year);
  while (day >= daysOfMonth(calendar.year, calendar.month))
    day -= daysOfMonth(calendar.year, calendar.month++);
  calendar.day = day + 1;
  calendar.hour = minutes / 60;
  calendar.minute = minutes % 60;
}

/** False behind the last one. */
export function goToNextCalendarFigure(): bool {
  if (calendar.figure == CalendarFigure.Zone) return false;
  calendar.figure++;
  return true;
}

export function turnCalendar(clicks: i32): void {
  switch (calendar.figure) {
    case CalendarFigure.Day:
      calendar.day = 1 + round(calendar.day - 1 + clicks, daysOfMonth(calendar.year, calendar.month));
      return;
    case CalendarFigure.Month:
      calendar.month = 1 + round(calendar.month - 1 + clicks, 12);
      break;
    case CalendarFigure.Year:
      calendar.year = FIRST_YEAR + round(calendar.year - FIRST_YEAR + clicks, LAST_YEAR - FIRST_YEAR + 1);
      break;
    case CalendarFigure.Hour:
      calendar.hour = round(calendar.hour + clicks, 24);
      return;
    case CalendarFigure.Minute:
      calendar.minute = round(calendar.minute + clicks, 60);
      return;
    default:
      turnZone(clicks);
      return;
  }
  calendar.day = min(calendar.day, daysOfMonth(calendar.year, calendar.month));
}

function round(value: i32, count: i32): i32 {
  const rest = value % count;
  return rest < 0 ? rest + count : rest;
}

function turnZone(clicks: i32): void {
  const name = SettingName.ZoneMinutes;
  const minutes = zoneMinutes() + clicks * ZONE_STEP_MINUTES;
  changeSetting(name, max(settingLeast(name), min(settingMost(name), minutes)));
  keeping.waiting |= Unkept.Settings;
}

/** What stands on the knob, in milliseconds since 1970. */
export function calendarMs(): i64 {
  const days = daysToDate(calendar.year, calendar.month, calendar.day);
  const minutes = days * DAY_MINUTES + calendar.hour * 60 + calendar.minute - zoneMinutes();
  return i64(minutes) * MINUTE_MS;
}
