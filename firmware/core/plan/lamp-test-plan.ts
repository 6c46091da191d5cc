/**
 * The lamp test: one long exposure beside patches of many short ones, each patch with more time for the lamp to come
 * up. Where a patch is as grey as the long exposure, its lag is the lamp's. Relay times here are the relay's: the lag
 * that the board knows is not made up for, since it is what is looked for.
 */

import { setLamp } from '../arithmetic/lamp';
import { ExposureKind } from '../generated/constants';
import { Plan, PlanCode, SegmentKind, STOPS_FIRST } from './plan';
import { compensatePulse } from './pulses';

/** Short pulses show the lag, many of them make it visible: a lag of 20 ms is 0.1 stop here. */
export const LAMP_TEST_MS: i32 = 4000;
export const LAMP_TEST_PULSES: i32 = 16;
export const LAMP_TEST_PATCHES: i32 = 7;
export const LAMP_TEST_STEP_MS: i32 = 20;
/** From the end of a pulse to the next, for a filament to go cold. */
export const LAMP_TEST_GAP_US: i64 = 750_000;
/** Outside these a pulse would be shorter than a relay can be depended on for, or the setting's range is left. */
const LEAST_LAG_MS: i32 = -180;
const MOST_LAG_MS: i32 = 1000;

/** The first lag of a test, brought into the range in which all its patches can be given. */
export function firstLagInRange(lagMs: i32): i32 {
  return max(LEAST_LAG_MS, min(MOST_LAG_MS - LAMP_TEST_STEP_MS * (LAMP_TEST_PATCHES - 1), lagMs));
}

/**
 * n pulses lose n lags, the long exposure loses one: they are alike where the pulses together are longer by n - 1
 * lags (computed from the model in lamp.ts).
 */
export function planLampTest(plan: Plan, firstLagMs: i32): PlanCode {
  setLamp(0, 0);
  plan.begin(LAMP_TEST_MS, true);
  addPatch(plan, 0, 1, LAMP_TEST_MS);
  for (let patch = 0; patch < LAMP_TEST_PATCHES; patch++) {
    const lagMs = firstLagMs + LAMP_TEST_STEP_MS * patch;
    addPatch(plan, patch + 1, LAMP_TEST_PULSES, LAMP_TEST_MS + (LAMP_TEST_PULSES - 1) * lagMs);
  }
  return plan.code;
}

function addPatch(plan: Plan, patch: i32, pulses: i32, doseMs: i32): void {
  const index = plan.passCount;
  plan.addPass(ExposureKind.LampTest, doseMs);
  const pass = plan.pass(index);
  pass.patch = u8(patch);
  pass.pulses = u8(pulses);
  plan.addSegment(SegmentKind.Open, STOPS_FIRST, doseMs / pulses);
  refillPulse(plan, index);
}

/** The one segment of pass `index` has all its light before it again: the next pulse is as the one before. */
export function refillPulse(plan: Plan, index: i32): void {
  const pass = plan.pass(index);
  plan.segment(pass.firstSegment).restUs = (u32(pass.doseMs) * 1000) / u32(pass.pulses);
  compensatePulse(plan, pass.firstSegment);
}
