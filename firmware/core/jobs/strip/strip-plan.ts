/**
 * A test strip as exposures. Every patch's total is rounded once, from the first time; what a cumulative strip
 * adds is the difference of two totals, so that rounding never piles up.
 */

import { COLD, minimumDoseMs } from '../../arithmetic/lamp';
import { NO_DOSE, timeAtStopsMs } from '../../arithmetic/stops';
import { ExposureKind, LONGEST_DOSE_MS, OFFSET_STOPS120, STRIP_PATCHES } from '../../generated/constants';
import { PieceKind, Plan, PlanCode, STOPS_FIRST } from '../../plan/plan';
import { compensatePulse } from '../../plan/pulses';

const LEAST_PATCHES: i32 = 2;

/**
 * The total of patch `patch` (from 0, lightest first): `firstMs` and that many steps, each of `stepStops120` or,
 * where that is 0, of `stepMs` equal milliseconds. NO_DOSE above an hour or beyond 10 stops.
 */
export function patchMs(firstMs: i32, stepStops120: i32, stepMs: i32, patch: i32): i32 {
  if (stepStops120 != 0) return timeAtStopsMs(firstMs, stepStops120 * patch);
  const totalMs = <i64>firstMs + <i64>stepMs * patch;
  return totalMs > LONGEST_DOSE_MS ? NO_DOSE : <i32>totalMs;
}

/**
 * Plans a strip of `patches` (2..12). Cumulative: the first exposure covers all patches, each later one what is
 * then still to get darker. Separate: each patch by itself. A refusal names the exposure as its pass.
 */
export function planStrip(
  plan: Plan,
  firstMs: i32,
  stepStops120: i32,
  stepMs: i32,
  patches: i32,
  separate: bool,
): PlanCode {
  plan.begin(true);
  const code = stripFault(firstMs, stepStops120, stepMs, patches);
  if (code != PlanCode.Ok) return plan.refuse(code, -1, -1, firstMs, LONGEST_DOSE_MS);
  let coveredMs: i32 = 0;
  for (let patch = 0; patch < patches; patch += 1) {
    const totalMs = patchMs(firstMs, stepStops120, stepMs, patch);
    if (totalMs == NO_DOSE) return plan.refuse(PlanCode.TooLong, patch, -1, 0, LONGEST_DOSE_MS);
    addExposure(plan, totalMs - coveredMs);
    if (!separate) coveredMs = totalMs;
  }
  return plan.code;
}

function stripFault(firstMs: i32, stepStops120: i32, stepMs: i32, patches: i32): PlanCode {
  if (firstMs < 1 || firstMs > LONGEST_DOSE_MS) return PlanCode.BaseOutOfRange;
  if (patches < LEAST_PATCHES || patches > STRIP_PATCHES) return PlanCode.CountOutOfRange;
  if (stepStops120 < 0 || stepStops120 > OFFSET_STOPS120) return PlanCode.StopsOutOfRange;
  if (stepStops120 * (patches - 1) > OFFSET_STOPS120) return PlanCode.StopsOutOfRange;
  if (stepStops120 == 0 && (stepMs < 1 || stepMs > LONGEST_DOSE_MS)) return PlanCode.StopsOutOfRange;
  return PlanCode.Ok;
}

function addExposure(plan: Plan, doseMs: i32): void {
  const exposure = plan.passCount;
  if (doseMs < minimumDoseMs()) {
    plan.refuse(PlanCode.BelowLamp, exposure, -1, doseMs, minimumDoseMs());
    return;
  }
  plan.addPass(ExposureKind.Strip, doseMs);
  plan.pass(exposure).patch = u8(exposure + 1);
  plan.addPiece(PieceKind.Open, STOPS_FIRST, doseMs);
  compensatePulse(plan, exposure, COLD);
}
