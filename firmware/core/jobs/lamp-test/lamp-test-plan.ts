/**
 * The lamp test: one long exposure beside patches of many short ones, each patch with more time for the lamp to come
 * up. Where a patch is as grey as the long exposure, its lag is the lamp's. Relay times here are the relay's: the lag
 * that the board knows is not made up for, since it is what is looked for; a rise that is known is allowed for, and so
 * is what is left of the glow from pulse to pulse. A slow lamp needs longer pulses to be depended on: then all of the
 * test is longer, and its steps with it, so that they show as well.
 */

import { doseUs, onUsForPulses, setLamp } from '../../arithmetic/lamp';
import { ExposureKind, SettingName } from '../../generated/constants';
import { Plan, PlanCode } from '../../plan/plan';
import { PULSE_GAP_US } from '../../plan/pulses';
import { settingValue } from '../../settings/settings';
import { addPulses } from '../pulsed-pass';

/** Short pulses show the lag, many of them make it visible: a lag of 20 ms is 0.1 stop here. */
const LAMP_TEST_MS: i32 = 4000;
const LAMP_TEST_PULSES: i32 = 16;
export const LAMP_TEST_PATCHES: i32 = 7;
export const LAMP_TEST_STEP_MS: i32 = 20;
/** The setting's range. */
const LEAST_LAG_MS: i32 = -500;
const MOST_LAG_MS: i32 = 1000;

/**
 * How many times as long as the shortest the test is whose first patch is for `lagMs`. A pulse is a sixteenth of it, and
 * to be lit for two rises (see minimumDoseMs), the glow of a lag below zero beside that; so that a relay can be
 * depended on, it is lit for 80 ms at least.
 */
function testLength(lagMs: i32): i32 {
  const glowMs = max(0, -lagMs);
  const neededMs = max(32 * settingValue(SettingName.LampRiseMs) + 14 * glowMs, 22 * glowMs);
  return max(1, (neededMs + LAMP_TEST_MS - 1) / LAMP_TEST_MS);
}

/** The long exposure of a test whose first patch is for `firstLagMs`, and how far its patches are apart. */
export function lampTestMs(firstLagMs: i32): i32 {
  return LAMP_TEST_MS * testLength(firstLagMs);
}

export function lampTestStepMs(firstLagMs: i32): i32 {
  return LAMP_TEST_STEP_MS * testLength(firstLagMs);
}

/** The first lag of a test, brought into the range in which all its patches can be given. */
export function firstLagInRange(lagMs: i32): i32 {
  const first = max(LEAST_LAG_MS, lagMs);
  return min(MOST_LAG_MS - lampTestStepMs(first) * (LAMP_TEST_PATCHES - 1), first);
}

/** The exposure to compare with, and seven patches, the first of them for a lamp of `firstLagMs`. */
export function planLampTest(plan: Plan, firstLagMs: i32): PlanCode {
  const longMs = lampTestMs(firstLagMs);
  plan.begin(true);
  addPulses(plan, ExposureKind.LampTest, 0, 1, longMs);
  for (let patch = 0; patch < LAMP_TEST_PATCHES; patch++) {
    const onMs = pulsesMs(longMs, firstLagMs + lampTestStepMs(firstLagMs) * patch);
    addPulses(plan, ExposureKind.LampTest, patch + 1, LAMP_TEST_PULSES, onMs);
  }
  return plan.code;
}

/**
 * How long a lamp of that lag must be on in all its pulses, to give together what it gives in the long exposure. For a
 * lamp that comes up at once that is n - 1 lags more: n pulses lose n lags, the long exposure loses one.
 */
function pulsesMs(longMs: i32, lagMs: i32): i32 {
  setLamp(lagMs, settingValue(SettingName.LampRiseMs));
  const wantedUs = doseUs(longMs * 1000);
  return i32((onUsForPulses(wantedUs, LAMP_TEST_PULSES, PULSE_GAP_US) * LAMP_TEST_PULSES + 500) / 1000);
}
