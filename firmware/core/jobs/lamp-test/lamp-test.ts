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
  LAMP_TEST_MS,
  LAMP_TEST_PATCHES,
  LAMP_TEST_STEP_MS,
  planLampTest,
} from './lamp-test-plan';

export function planChosenLampTest(): PlanCode {
  return planLampTest(eveningPlan, chosen.firstLagMs);
}

/** The lag of patch `patch`, from 0. */
export function testLagMs(patch: i32): i32 {
  return chosen.firstLagMs + LAMP_TEST_STEP_MS * patch;
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
  entry.baseMs = LAMP_TEST_MS;
  entry.stepMs = LAMP_TEST_STEP_MS;
  entry.patches = u8(LAMP_TEST_PATCHES);
  entry.cover = u8(Cover.Separate);
}

/** It has had all its light. */
export function keepLampTestToRead(): void {
  readStrip.patches = u8(LAMP_TEST_PATCHES);
}

/** The lag of the patch that the knob is at, or between two. */
export function lagReadMs(): i32 {
  return testLagMs(patchRead()) + (isBetween() ? LAMP_TEST_STEP_MS / 2 : 0);
}

/** The lamp's lag is that of the patch; where none was right, the next test begins or ends with the nearest. */
export function takeLampTestReading(nowUs: i64): void {
  logPatchRead(0, nowUs);
  if (isFound()) {
    takeSetting(SettingName.LampLagMs, Finding.LampLagMs, lagReadMs(), nowUs);
    return;
  }
  const end = testLagMs(LAMP_TEST_PATCHES - 1);
  setFirstLag(verdict() == Verdict.TooLight ? end : 2 * chosen.firstLagMs - end);
  situation.job = Job.LampTest;
}
