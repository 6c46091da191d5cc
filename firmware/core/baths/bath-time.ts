/** How long the paper in use stays in a bath: as the row says, or by the temperature of the tray. */
import { bathAt, bathRow, rowSeconds } from './baths';
import { isByTemperature, isOutsidePoints, secondsByTemperature } from './points';

/** Draining included. By the row where the data sheet has no time for the tray's temperature; see `isOutsidePoints`. */
export function bathSeconds(index: i32): i32 {
  return isByTemperature(index) && !isOutsidePoints(index) ? secondsByTemperature(index) : rowSeconds(index);
}

/** The part of `seconds` at their end in which the paper drains. */
export function drainOf(index: i32, seconds: i32): i32 {
  return min(seconds, i32(bathAt(bathRow, index).drainSeconds));
}
