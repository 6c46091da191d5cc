/** What a turn of the knob makes of a time, and by how much it turns offsets. */
import { NO_DOSE, timeAtStopsMs } from '../arithmetic/stops';
import { LONGEST_DOSE_MS, SettingName, STOP_PARTS } from '../generated/constants';
import { settingValue } from '../settings/settings';
import { chosen } from '../state/state';

/** A click where the setting asks for seconds. */
const CLICK_MS: i32 = 500;
/** A click of an offset, which is in stops whatever the setting. */
const USUAL_PARTS: i32 = 12;

/** One click in 1/120 stop; 0 where times are turned in seconds. */
function clickStops120(): i32 {
  const parts = settingValue(SettingName.KnobStep);
  return parts == 0 ? 0 : STOP_PARTS / parts;
}

/** An offset of stops after `clicks`. */
export function stopsAfter120(stops120: i32, clicks: i32): i32 {
  const click = clickStops120();
  return stops120 + clicks * (click == 0 ? STOP_PARTS / USUAL_PARTS : click);
}

/**
 * `ms` after `clicks`; the same `ms` where that would be out of range. Reckoned from the time that a row of turns
 * began with, so that there and back again is the same time to the millisecond.
 */
export function timeAfterMs(ms: i32, clicks: i32): i32 {
  const click = clickStops120();
  if (click == 0) {
    const toMs = ms + clicks * CLICK_MS;
    return toMs < CLICK_MS || toMs > LONGEST_DOSE_MS ? ms : toMs;
  }
  if (ms != chosen.turnEndMs) {
    chosen.turnOriginMs = ms;
    chosen.turnStops120 = 0;
  }
  const toMs = timeAtStopsMs(chosen.turnOriginMs, chosen.turnStops120 + clicks * click);
  if (toMs == NO_DOSE) return ms;
  chosen.turnStops120 += clicks * click;
  chosen.turnEndMs = toMs;
  return toMs;
}
