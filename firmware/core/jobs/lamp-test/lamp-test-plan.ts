/**
 * The lamp test: one long exposure beside patches of many short ones, each patch with more time for the lamp to come
 * up. Where a patch is as grey as the long exposure, its lag is the lamp's. Relay times here are the relay's: the lag
 * that the board knows is not made up for, since it is what is looked for; a rise that is known is allowed for.
 */

import { doseUs, minimumDoseMs, onUsForDose, setLamp } from '../../arithmetic/lamp';
import { ExposureKind, SettingName } from '../../generated/constants';
import { PieceKind, Plan, PlanCode, STOPS_FIRST } from '../../plan/plan';
import { refillPulse } from '../../plan/pulses';
import { settingValue } from '../../settings/settings';

/** Short pulses show the lag, many of them make it visible: a lag of 20 ms is 0.1 stop here. */
export const LAMP_TEST_MS: i32 = 4000;
const LAMP_TEST_PULSES: i32 = 16;
export const LAMP_TEST_PATCHES: i32 = 7;
export const LAMP_TEST_STEP_MS: i32 = 20;
/** Outside these a pulse would be shorter than a relay can be depended on for, or the setting's range is left. */
const LEAST_LAG_MS: i32 = -180;
const MOST_LAG_MS: i32 = 1000;

/** The first lag of a test, brought into the range in which all its patches can be given. */
export function firstLagInRange(lagMs: i32): i32 {
  return max(LEAST_LAG_MS, min(MOST_LAG_MS - LAMP_TEST_STEP_MS * (LAMP_TEST_PATCHES - 1), lagMs));
}

/** The exposure to compare with, and seven patches, the first of them for a lamp of `firstLagMs`. */
export function planLampTest(plan: Plan, firstLagMs: i32): PlanCode {
  plan.begin(LAMP_TEST_MS, true);
  addPatch(plan, 0, 1, LAMP_TEST_MS);
  for (let patch = 0; patch < LAMP_TEST_PATCHES; patch++) {
    const onMs = pulsesMs(plan, firstLagMs + LAMP_TEST_STEP_MS * patch);
    addPatch(plan, patch + 1, LAMP_TEST_PULSES, onMs);
  }
  return plan.code;
}

/**
 * How long a lamp of that lag must be on in all its pulses, to give together what it gives in the long exposure. For a
 * lamp that comes up at once that is n - 1 lags more: n pulses lose n lags, the long exposure loses one.
 */
function pulsesMs(plan: Plan, lagMs: i32): i32 {
  setLamp(lagMs, settingValue(SettingName.LampRiseMs));
  const pulseDoseUs = doseUs(LAMP_TEST_MS * 1000) / LAMP_TEST_PULSES;
  if (pulseDoseUs < u32(minimumDoseMs()) * 1000)
    plan.refuse(PlanCode.BelowLamp, plan.passCount, -1, i32(pulseDoseUs / 1000), minimumDoseMs());
  return i32((onUsForDose(pulseDoseUs) * LAMP_TEST_PULSES + 500) / 1000);
}

/** From here on the lamp is taken as if it had neither lag nor rise: relay time is what is planned. */
function addPatch(plan: Plan, patch: i32, pulses: i32, doseMs: i32): void {
  setLamp(0, 0);
  const index = plan.passCount;
  plan.addPass(ExposureKind.LampTest, doseMs);
  const pass = plan.pass(index);
  pass.patch = u8(patch);
  pass.pulses = u8(pulses);
  plan.addPiece(PieceKind.Open, STOPS_FIRST, doseMs / pulses);
  refillPulse(plan, index);
}
