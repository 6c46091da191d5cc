/** The lamp test that is chosen, in the log, and what follows from what was seen on it. */
import { Sheet } from '../../generated/codec';
import { Cover, Finding, Job, SettingName, Verdict } from '../../generated/constants';
import { eveningPlan, PlanCode } from '../../plan/plan';
import { FIRST_OWN_FIGURE } from '../../state/chosen';
import { chosen, readStrip, situation } from '../../state/state';
import { isBetween, isFound, logPatchRead, patchRead, verdict } from '../patches';
import { takeSetting } from '../setting-found';
import {
  firstLagInRange,
  LAMP_TEST_PATCHES,
  LAMP_TEST_STEP_MS,
  lampTestMs,
  lampTestStepMs,
  planLampTest,
} from './lamp-test-plan';

export function planChosenLampTest(): PlanCode {
  return planLampTest(eveningPlan, chosen.firstLagMs);
}

/** The lag of patch `patch`, from 0. */
export function testLagMs(patch: i32): i32 {
  return chosen.firstLagMs + lampTestStepMs(chosen.firstLagMs) * patch;
}

/** There is one figure: the lag of the first patch. */
export function nextLagFigure(): i32 {
  return FIRST_OWN_FIGURE;
}

export function setFirstLag(lagMs: i32): void {
  chosen.firstLagMs = firstLagInRange(lagMs);
}

export function lagAfter(lagMs: i32, clicks: i32): i32 {
  return lagMs + clicks * LAMP_TEST_STEP_MS;
}

export function describeLampTest(entry: Sheet): void {
  entry.baseMs = lampTestMs(chosen.firstLagMs);
  entry.stepMs = lampTestStepMs(chosen.firstLagMs);
  entry.patches = u8(LAMP_TEST_PATCHES);
  entry.cover = u8(Cover.Separate);
}

/** It has had all its light. The lag of its first patch may be below zero. */
export function keepLampTestToRead(): void {
  readStrip.firstMs = u32(chosen.firstLagMs);
  readStrip.stepMs = lampTestStepMs(chosen.firstLagMs);
  readStrip.patches = u8(LAMP_TEST_PATCHES);
}

/** The lag of the patch that the knob is at, or between two. */
export function lagReadMs(): i32 {
  const stepMs = i32(readStrip.stepMs);
  return i32(readStrip.firstMs) + stepMs * patchRead() + (isBetween() ? stepMs / 2 : 0);
}

/** The lamp's lag is that of the patch; where none was right, the next test begins or ends with the nearest. */
export function takeLampTestReading(nowUs: i64): void {
  logPatchRead(0, nowUs);
  if (isFound()) {
    takeSetting(SettingName.LampLagMs, Finding.LampLagMs, lagReadMs(), nowUs);
    return;
  }
  const widthMs = i32(readStrip.stepMs) * (LAMP_TEST_PATCHES - 1);
  setFirstLag(i32(readStrip.firstMs) + (verdict() == Verdict.TooLight ? widthMs : -widthMs));
  situation.job = Job.LampTest;
}
