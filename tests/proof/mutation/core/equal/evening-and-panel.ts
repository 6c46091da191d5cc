import type { Equal } from '../../equal.js';
import { padding, sign } from './kinds.js';

/** What a hand meets: the evening, knob, panel and sounds; and time. */
export const eveningAndPanel: readonly Equal[] = [
  {
    file: 'firmware/core/rows/plain-letters.ts',
    line: 'return load<u8>(LATIN_EXTENDED_A + 1 + extended)',
    change: /^i32\.load8_u as load8_s$/,
    why: 'each of them is plain ASCII',
  },
  {
    file: 'firmware/core/rows/plain-letters.ts',
    line: 'if (extended >= 0 && extended < load<u8>(LATIN_EXTENDED_A))',
    change: /^0 as -1$/,
    why: 'what comes one before them was told before',
  },
  {
    file: 'firmware/core/sound/signals.ts',
    line: 'const isOver = length >= i32(load<u8>(row))',
    change: /^i32\.load8_u as load8_s$/,
    why: 'no signal has more than nine lengths',
  },
  {
    file: 'firmware/core/panel/lens-rows.ts',
    line: 'settingValue(SettingName.FocusLimitS) * 1_000_000',
    change: /^1000000 as 1000001$/,
    why: 'it is told at whole seconds of the light in tenths, and the longest is off by less than a thousandth',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'max<i64>(0, us) + 50_000',
    change: /^0 as -1$/,
    why: 'either is shown as 0.0',
  },
  {
    file: 'firmware/core/knob/turn-speed.ts',
    line: 'hands.clicksADetent != 1',
    change: /^1 as 2$/,
    why: 'a detent counts one click, three or six; a slow turn that cannot be cannot be either when it is tried once more',
  },
  {
    file: 'firmware/core/evening/kept-sheet.ts',
    line: 'memory.copy(shelved, from, NOTED_AT)',
    change: /^56 as 57$/,
    why: 'the byte behind it is of a place that is read into before anything is read of it',
  },
  {
    file: 'firmware/core/evening/left-sheet.ts',
    line: 'memory.copy(activeRecipe, leftRecipe, RECIPE_BODY_BYTES)',
    change: /^2200 as 2199$/,
    why: padding,
  },
  {
    file: 'firmware/core/index.ts',
    line: 'finishedTicket >= SESSION_TICKETS',
    change: /^1000 as 999$/,
    why: 'there is no ticket of that number: the evening has two, half as high',
  },
  {
    file: 'firmware/core/timers/civil-time.ts',
    line: 'inCycle < 366',
    change: sign,
    why: 'a day of a cycle of four years, from 0',
  },
  {
    file: 'firmware/core/evening/menu.ts',
    line: 'left.isOffered = next < 0',
    change: /^i32\.lt_s as le_s$/,
    why: 'the knob stops only where there is no place, and the first place is one',
  },
  {
    file: 'firmware/core/evening/turning.ts',
    line: 'chosen.passDue < eveningPlan.passCount',
    change: sign,
    why: 'both count from 0',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (nextMs < 1 || nextMs > LONGEST_DOSE_MS) return toMs',
    change: /^(?:0 as 1|1 as 2|3600000 as 3600001)$/,
    why: 'marks are whole tenths of a second',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'const gapMs = gapAtMs(ms - 1)',
    change: /^1 as 2$/,
    why: 'where the gap changes there is a mark of both gaps',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (ms < 3000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (ms < 20_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'if (ms < 60_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/knob/turned-time.ts',
    line: 'return ms < 300_000',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'if (ms < 100_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'else if (ms < 1_000_000)',
    change: sign,
    why: 'no time is below zero',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'putNumber(value / parts)',
    change: sign,
    why: 'no figure that is shown in decimals is below zero: the sign of an offset is put before it',
  },
  {
    file: 'firmware/core/rows/figures.ts',
    line: 'else putFraction((abs(',
    change: sign,
    why: 'what has no sign any more',
  },
  {
    file: 'firmware/core/rows/plain-letters.ts',
    line: 'LATIN_EXTENDED_A + 1 + extended',
    change: sign,
    why: 'plain ASCII',
  },
  {
    file: 'firmware/core/sound/signals.ts',
    line: 'const isOver = length >= i32(load<u8>(row))',
    change: sign,
    why: 'a signal has a handful of tones',
  },
  {
    file: 'firmware/core/state/contact.ts',
    line: 'this.creditUs < SETTLE_US',
    change: sign,
    why: 'credit is never below zero',
  },
  {
    file: 'firmware/core/timers/civil-time.ts',
    line: 'return DAYS_TO_2000 + years * 365 + (years + 3) / 4',
    change: sign,
    why: 'years from 2000 on',
  },
  {
    file: 'firmware/core/timers/timers.ts',
    line: 'else if (atUs < dueUs(first) || (atUs == dueUs(first) && timer < first))',
    change: /^i32\.[lg]t_s as [lg]t_u$/,
    why: 'timers are numbered from 0',
  },
];
