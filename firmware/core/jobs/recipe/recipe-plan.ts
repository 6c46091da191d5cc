/**
 * A recipe as passes and pieces. Offsets of passes and burns refer to the base, dodges to the dose of their own
 * pass. The dodges of a pass run one after another at its start, in their order; then comes the open rest.
 *
 * Use: `beginRecipe`, then for each pass `addRecipePass` and its `addRecipeDodge`s, then `endRecipe`. Every step
 * answers a PlanCode; after one that is not Ok the rest may be called or left out.
 */

import { COLD, minimumDoseMs } from '../../arithmetic/lamp';
import { burnMs, dodgeMs, NO_DOSE, timeAtFineStopsMs } from '../../arithmetic/stops';
import {
  ExposureKind,
  LONGEST_DOSE_MS,
  OFFSET_STOPS120,
  PassKind,
  RECIPE_DODGES,
} from '../../generated/constants';
import { JOINED, PieceKind, Plan, PlanCode, STOPS_FIRST } from '../../plan/plan';
import { compensatePulse, pulseEnd } from '../../plan/pulses';

const TENTHS_OF_PER_CENT: i32 = 1000;

/**
 * `baseMs` of the recipe (1..1 h) less `dryDownTenths` (0..500) tenths of a per cent, rounded half up: the base
 * that all offsets refer to, so a paper that dries darker takes the same part off everything.
 */
export function beginRecipe(plan: Plan, baseMs: i32, dryDownTenths: i32, dodgesStop: bool): PlanCode {
  plan.begin(dodgesStop);
  if (baseMs < 1 || baseMs > LONGEST_DOSE_MS || dryDownTenths < 0 || dryDownTenths > TENTHS_OF_PER_CENT / 2) {
    return plan.refuse(PlanCode.BaseOutOfRange, -1, -1, baseMs, LONGEST_DOSE_MS);
  }
  const inThousandths = <i64>baseMs * (TENTHS_OF_PER_CENT - dryDownTenths);
  plan.baseMs = <i32>((inThousandths + TENTHS_OF_PER_CENT / 2) / TENTHS_OF_PER_CENT);
  return PlanCode.Ok;
}

/** A pass of the base at `stops120` (-1200..1200), or a burn of `stops120` (1..1200); the fine part is added to it. */
export function addRecipePass(plan: Plan, kind: PassKind, stops120: i32, fine3M: i32): PlanCode {
  const doseMs = recipePassMs(plan, kind, stops120, fine3M);
  return addDose(plan, kind == PassKind.Burn ? ExposureKind.Burn : ExposureKind.Base, doseMs);
}

/** Closes the pass before, and answers what such a pass gives; or NO_DOSE, and the plan is refused. */
export function recipePassMs(plan: Plan, kind: PassKind, stops120: i32, fine3M: i32): i32 {
  closePass(plan);
  const pass = plan.passCount;
  const least = kind == PassKind.Burn ? 1 : -OFFSET_STOPS120;
  if (stops120 < least || stops120 > OFFSET_STOPS120) {
    plan.refuse(PlanCode.StopsOutOfRange, pass, -1, 0, 0);
    return NO_DOSE;
  }
  const doseMs =
    kind == PassKind.Burn
      ? burnMs(plan.baseMs, stops120, fine3M)
      : timeAtFineStopsMs(plan.baseMs, stops120, fine3M);
  if (doseMs == NO_DOSE) refuseNoDose(plan, pass, stops120, fine3M);
  return doseMs;
}

/** Closes the pass before, and adds one of `doseMs`. */
export function addDose(plan: Plan, kind: ExposureKind, doseMs: i32): PlanCode {
  closePass(plan);
  if (plan.code != PlanCode.Ok) return plan.code;
  const pass = plan.passCount;
  if (!plan.addPass(kind, doseMs)) return plan.refuse(PlanCode.CountOutOfRange, pass, -1, 0, 0);
  plan.pass(pass).recipePass = u8(pass);
  if (doseMs < minimumDoseMs()) return plan.refuse(PlanCode.BelowLamp, pass, -1, doseMs, minimumDoseMs());
  return PlanCode.Ok;
}

/** A dodge of the pass added last, `stops120` (-1200..-1) as people write it: below zero, for less light. */
export function addRecipeDodge(plan: Plan, stops120: i32, fine3M: i32): PlanCode {
  if (plan.code != PlanCode.Ok) return plan.code;
  const index = plan.passCount - 1;
  const pass = plan.pass(index);
  const dodge = <i32>pass.dodgeCount;
  if (stops120 < -OFFSET_STOPS120 || stops120 > -1) {
    return plan.refuse(PlanCode.StopsOutOfRange, index, dodge, 0, 0);
  }
  const doseMs = max(0, dodgeMs(pass.doseMs, -stops120, -fine3M));
  if (doseMs < minimumDoseMs()) return plan.refuse(PlanCode.BelowLamp, index, dodge, doseMs, minimumDoseMs());
  const flags = plan.dodgesStop || dodge == 0 ? STOPS_FIRST : 0;
  if (dodgesSoFar(plan) == RECIPE_DODGES) return plan.refuse(PlanCode.CountOutOfRange, index, dodge, 0, 0);
  plan.addPiece(PieceKind.Dodge, flags, doseMs);
  return PlanCode.Ok;
}

/** Completes the plan: every pulse has its relay time. */
export function endRecipe(plan: Plan): PlanCode {
  closePass(plan);
  if (plan.passCount == 0) plan.refuse(PlanCode.CountOutOfRange, -1, -1, 0, 0);
  return plan.code;
}

function refuseNoDose(plan: Plan, pass: i32, stops120: i32, fine3M: i32): PlanCode {
  if (stops120 > 0 && timeAtFineStopsMs(plan.baseMs, stops120, fine3M) == NO_DOSE) {
    return plan.refuse(PlanCode.TooLong, pass, -1, 0, LONGEST_DOSE_MS);
  }
  return plan.refuse(PlanCode.BelowLamp, pass, -1, 0, minimumDoseMs());
}

function dodgesSoFar(plan: Plan): i32 {
  let dodges = 0;
  for (let index = 0; index < plan.passCount; index += 1) dodges += plan.pass(index).dodgeCount;
  return dodges;
}

/** Adds the open rest of the last pass, if there is a last pass, and compensates its pulses. */
function closePass(plan: Plan): void {
  if (plan.code != PlanCode.Ok || plan.passCount == 0) return;
  const index = plan.passCount - 1;
  const pass = plan.pass(index);
  const first = <i32>pass.firstPiece;
  let dodgedMs: i32 = 0;
  for (let piece = first; piece < plan.pieceCount; piece += 1) dodgedMs += plan.piece(piece).doseMs;
  if (dodgedMs > pass.doseMs) {
    plan.refuse(PlanCode.DodgesTooLong, index, -1, dodgedMs, pass.doseMs);
    return;
  }
  if (dodgedMs < pass.doseMs) addRest(plan, pass.doseMs - dodgedMs);
  compensatePass(plan, index);
}

/**
 * The rest waits for the hand to be gone where dodges stop the lamp, unless it is too short to be given by
 * itself: then it runs on from the last dodge.
 */
function addRest(plan: Plan, restMs: i32): void {
  const dodges = plan.pass(plan.passCount - 1).dodgeCount;
  let flags: u8 = STOPS_FIRST;
  if (dodges > 0 && restMs < minimumDoseMs()) flags = JOINED;
  else if (dodges > 0 && !plan.dodgesStop) flags = 0;
  plan.addPiece(PieceKind.Open, flags, restMs);
}

function compensatePass(plan: Plan, index: i32): void {
  let first = <i32>plan.pass(index).firstPiece;
  while (first < plan.pieceCount) {
    const end = pulseEnd(plan, first);
    if (!compensatePulse(plan, first, COLD)) {
      const last = plan.piece(end - 1);
      plan.refuse(PlanCode.BelowLamp, index, last.dodge, last.doseMs, minimumDoseMs());
    }
    first = end;
  }
}
