/** What a turn of the knob makes of a time, and by how much it turns offsets. */
import { NO_DOSE, timeAtStopsMs } from '../arithmetic/stops';
import { LONGEST_DOSE_MS, SettingName, STOP_PARTS } from '../generated/constants';
import { settingValue } from '../settings/settings';
import { chosen } from '../state/state';
import { clicksOfTurn } from './turn-speed';

/** A click of an offset, which is in stops whatever the setting. */
const USUAL_PARTS: i32 = 12;

/** One click in 1/120 stop; 0 where times are turned in seconds. */
function clickStops120(): i32 {
  const parts = settingValue(SettingName.KnobStep);
  return parts == 0 ? 0 : STOP_PARTS / parts;
}

function clickOfOffset120(): i32 {
  const click = clickStops120();
  return click == 0 ? STOP_PARTS / USUAL_PARTS : click;
}

/** An offset of stops after `clicks`. */
export function stopsAfter120(stops120: i32, clicks: i32): i32 {
  return stops120 + clicks * clickOfOffset120();
}

/** `ms` after `detents`, by what the setting says; the same `ms` where that would be out of range. */
export function timeAfterMs(ms: i32, detents: i32): i32 {
  return clickStops120() == 0 ? timeInSecondsAfterMs(ms, detents) : timeInStopsAfterMs(ms, detents);
}

/** Reckoned from the time that a row of turns began with, so that there and back again is the same time to the millisecond. */
export function timeInStopsAfterMs(ms: i32, detents: i32): i32 {
  if (ms != chosen.turnEndMs) {
    chosen.turnOriginMs = ms;
    chosen.turnStops120 = 0;
  }
  const stops120 = chosen.turnStops120 + clicksOfTurn(detents) * clickOfOffset120();
  const toMs = timeAtStopsMs(chosen.turnOriginMs, stops120);
  if (toMs == NO_DOSE) return ms;
  chosen.turnStops120 = stops120;
  chosen.turnEndMs = toMs;
  return toMs;
}

/** From mark to mark of a scale of round times, the nearest one first; as far as the scale goes. */
export function timeInSecondsAfterMs(ms: i32, detents: i32): i32 {
  let toMs = ms;
  for (let left = clicksOfTurn(abs(detents)); left > 0; left--) {
    const nextMs = detents > 0 ? markAboveMs(toMs) : markBelowMs(toMs);
    if (nextMs < 1 || nextMs > LONGEST_DOSE_MS) return toMs;
    toMs = nextMs;
  }
  return toMs;
}

function markAboveMs(ms: i32): i32 {
  const gapMs = gapAtMs(ms);
  return (ms / gapMs + 1) * gapMs;
}

function markBelowMs(ms: i32): i32 {
  const gapMs = gapAtMs(ms - 1);
  return ((ms - 1) / gapMs) * gapMs;
}

/** Between a time's two marks: a tenth of a second where that shows on paper, then ever more. */
function gapAtMs(ms: i32): i32 {
  if (ms < 3000) return 100;
  if (ms < 20_000) return 500;
  if (ms < 60_000) return 1000;
  return ms < 300_000 ? 5000 : 30_000;
}
