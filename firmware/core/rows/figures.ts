/** Times as the panel shows them. */

import { FINE_PARTS, STOP_PARTS } from '../generated/constants';
import { ascii } from '../protocol/texts';
import { put, putByte, putNumber } from './row';

const DOT: u8 = 0x2e;
const SLASH: u8 = 0x2f;
const COLON: u8 = 0x3a;
const FINE_OF_THOUSANDTH: i32 = (STOP_PARTS * FINE_PARTS) / 1000;

/** A time in at most 7 columns: "12.50 s", "125.0 s", "1250 s". */
export function putSeconds(ms: i32): void {
  if (ms < 100_000) putFraction((ms + 5) / 10, 100);
  else if (ms < 1_000_000) putFraction((ms + 50) / 100, 10);
  else putNumber((ms + 500) / 1000);
  put(ascii(' s'));
}

/** A time that runs down, in tenths: "11.5 s". */
export function putCountdown(us: i64): void {
  putFraction(i32((max<i64>(0, us) + 50_000) / 100_000), 10);
  put(ascii(' s'));
}

/** A time of a bath, rounded to seconds: "1:30", "60:00". */
export function putMinutes(seconds: i32): void {
  putNumber(seconds / 60);
  putByte(COLON);
  putByte(u8(0x30 + (seconds % 60) / 10));
  putByte(u8(0x30 + (seconds % 10)));
}

/** A temperature in tenths of a degree Celsius: "22.5 C". */
export function putDegrees(c10: i32): void {
  putTenths(c10);
  put(ascii(' C'));
}

export function putTenths(tenths: i32): void {
  putFraction(tenths, 10);
}

/** "1 sheet", "3 sheets": the words begin with their space. */
export function putCounted(count: i32, one: usize, many: usize): void {
  putNumber(count);
  put(count == 1 ? one : many);
}

/** "2/5" */
export function putOf(number: i32, count: i32): void {
  putNumber(number);
  putByte(SLASH);
  putNumber(count);
}

/** `value` in units of 1 / `parts`, a power of ten. */
function putFraction(value: i32, parts: i32): void {
  putNumber(value / parts);
  putByte(DOT);
  for (let unit = parts / 10; unit > 0; unit /= 10) putByte(u8(0x30 + ((value / unit) % 10)));
}

/** An offset with its sign: "+1/2", "-1 1/4"; with a fine part in decimals, "+0.585". */
export function putSignedStops(stops120: i32, fine3M: i32): void {
  const stops3M = stops120 * FINE_PARTS + fine3M;
  putByte(stops3M < 0 ? 0x2d : 0x2b);
  if (fine3M == 0) putStops(abs(stops120));
  else putFraction((abs(stops3M) + FINE_OF_THOUSANDTH / 2) / FINE_OF_THOUSANDTH, 1000);
}

/** Stops in 1/120 as people write them: "1", "1/2", "1 1/4", the smallest fraction that is exact. */
export function putStops(stops120: i32): void {
  const whole = stops120 / 120;
  const parts = stops120 % 120;
  if (whole != 0 || parts == 0) putNumber(whole);
  if (parts == 0) return;
  if (whole != 0) putByte(0x20);
  let divisor = 120;
  let rest = parts;
  while (rest != 0) {
    const next = divisor % rest;
    divisor = rest;
    rest = next;
  }
  putOf(parts / divisor, 120 / divisor);
}
