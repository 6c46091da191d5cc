/**
 * Days and minutes since 1970 as dates of the Gregorian calendar, from 2000 to 2099, where every fourth year is a leap
 * year (ISO 8601; 2000 is one since 400 divides it).
 */

/** From 1970-01-01 to 2000-01-01: thirty years, seven of them leap years. */
const DAYS_TO_2000: i32 = 30 * 365 + 7;
const FIRST_YEAR: i32 = 2000;
const DAYS_OF_FOUR_YEARS: i32 = 4 * 365 + 1;

export function isLeapYear(year: i32): bool {
  return (year & 3) == 0;
}

/** `month` from 1. */
export function daysOfMonth(year: i32, month: i32): i32 {
  if (month == 2) return isLeapYear(year) ? 29 : 28;
  return month == 4 || month == 6 || month == 9 || month == 11 ? 30 : 31;
}

/** Days from 1970-01-01 to the first of January of that year. */
export function daysToYear(year: i32): i32 {
  const years = year - FIRST_YEAR;
  return DAYS_TO_2000 + years * 365 + (years + 3) / 4;
}

/** Days from 1970-01-01 to that date. */
export function daysToDate(year: i32, month: i32, day: i32): i32 {
  let days = daysToYear(year) + day - 1;
  for (let before = 1; before < month; before++) days += daysOfMonth(year, before);
  return days;
}

/** The year in which the day lies that is so many days after 1970-01-01. */
export function yearOfDay(days: i32): i32 {
  const since = days - DAYS_TO_2000;
  const cycle = since / DAYS_OF_FOUR_YEARS;
  const inCycle = since % DAYS_OF_FOUR_YEARS;
  return FIRST_YEAR + cycle * 4 + (inCycle < 366 ? 0 : (inCycle - 1) / 365);
}
