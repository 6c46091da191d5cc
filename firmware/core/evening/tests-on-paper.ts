/** What the tests on paper begin with: the lamp test's first lag, the safelight test's grey. */
import { firstLagInRange, LAMP_TEST_STEP_MS } from '../plan/lamp-test-plan';

/** Two seconds at the aperture of the last strip; to be turned to what makes a light grey. */
const FIRST_GREY_MS: i32 = 2000;

export let firstLagMs: i32 = 0;
export let greyMs: i32 = FIRST_GREY_MS;

/** After power-up. */
export function firstTests(): void {
  firstLagMs = 0;
  greyMs = FIRST_GREY_MS;
}

export function testLagsFrom(lagMs: i32): void {
  firstLagMs = firstLagInRange(lagMs);
}

export function greyIs(ms: i32): void {
  greyMs = ms;
}

/** The lag of patch `patch`, from 0. */
export function testLagMs(patch: i32): i32 {
  return firstLagMs + LAMP_TEST_STEP_MS * patch;
}
