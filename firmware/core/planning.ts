/**
 * The arithmetic as the laptop uses it: the same functions that the evening runs on, on a plan of their own, so
 * asking changes nothing. Whole numbers in and out; the answers are explained where the functions are written.
 */
import { COLD, doseUs, minimumDoseMs, onUsForDose, setLamp } from './arithmetic/lamp';
import { burnMs, dodgeMs, stopsBetween, timeAtFineStopsMs } from './arithmetic/stops';
import { addRecipeDodge, addRecipePass, beginRecipe, endRecipe } from './jobs/recipe/recipe-plan';
import { patchMs, planStrip } from './jobs/strip/strip-plan';
import {
  FIRST_STRIP_MS,
  FIRST_STRIP_PATCHES,
  FIRST_STRIP_STOPS120,
  proposedFirstMs,
  proposedPatches,
  proposedStops120,
  proposeStrip,
  readMs,
  stopsDown,
} from './jobs/strip/strip-proposal';
import { trialPlan } from './plan/plan';
import { bookPulse, pulseEnd, pulseOnUs } from './plan/pulses';

export {
  burnMs,
  dodgeMs,
  doseUs,
  minimumDoseMs,
  onUsForDose,
  patchMs,
  readMs,
  setLamp,
  stopsBetween,
  stopsDown,
  timeAtFineStopsMs,
};

/** See `beginRecipe`; answers a PlanCode, as the next three do. */
export function planBegin(baseMs: i32, dryDownTenths: i32, dodgesStop: bool): i32 {
  return beginRecipe(trialPlan, baseMs, dryDownTenths, dodgesStop);
}

export function planPass(kind: i32, stops120: i32, fine3M: i32): i32 {
  return addRecipePass(trialPlan, kind, stops120, fine3M);
}

export function planDodge(stops120: i32, fine3M: i32): i32 {
  return addRecipeDodge(trialPlan, stops120, fine3M);
}

export function planEnd(): i32 {
  return endRecipe(trialPlan);
}

/** See `planStrip`; answers a PlanCode. */
export function planPatches(firstMs: i32, stepStops120: i32, stepMs: i32, patches: i32, separate: bool): i32 {
  return planStrip(trialPlan, firstMs, stepStops120, stepMs, patches, separate);
}

/** The figures of a refusal. */
export function planFailedPass(): i32 {
  return trialPlan.failedPass;
}

export function planFailedDodge(): i32 {
  return trialPlan.failedDodge;
}

export function planNeededMs(): i32 {
  return trialPlan.neededMs;
}

export function planAllowedMs(): i32 {
  return trialPlan.allowedMs;
}

/** The plan itself; `index` must be below the count. */
export function planBaseMs(): i32 {
  return trialPlan.baseMs;
}

export function planPassCount(): i32 {
  return trialPlan.passCount;
}

export function planPassDoseMs(index: i32): i32 {
  return trialPlan.pass(index).doseMs;
}

export function planPieceCount(): i32 {
  return trialPlan.pieceCount;
}

export function planPieceKind(index: i32): i32 {
  return trialPlan.piece(index).kind;
}

export function planPieceFlags(index: i32): i32 {
  return trialPlan.piece(index).flags;
}

export function planPiecePass(index: i32): i32 {
  return trialPlan.piece(index).pass;
}

export function planPieceDoseMs(index: i32): i32 {
  return trialPlan.piece(index).doseMs;
}

export function planPieceRestUs(index: i32): u32 {
  return trialPlan.piece(index).restUs;
}

export function planPieceOnUs(index: i32): u32 {
  return trialPlan.piece(index).onUs;
}

/** Carrying the plan out on paper: see `pulseEnd`, `pulseOnUs` and `bookPulse`. */
export function planPulseEnd(first: i32): i32 {
  return pulseEnd(trialPlan, first);
}

export function planPulseOnUs(first: i32): u32 {
  return pulseOnUs(trialPlan, first);
}

export function planBookPulse(first: i32, measuredOnUs: u32): i32 {
  return bookPulse(trialPlan, first, measuredOnUs, COLD);
}

/** The next strip after one was read: see strip-proposal.ts. The answers hold until the next proposal. */
export function nextStrip(
  verdict: i32,
  bestMs: i32,
  firstMs: i32,
  stepStops120: i32,
  stepMs: i32,
  patches: i32,
): bool {
  return proposeStrip(verdict, bestMs, firstMs, stepStops120, stepMs, patches);
}

export function nextStripFirstMs(): i32 {
  return proposedFirstMs;
}

export function nextStripStops120(): i32 {
  return proposedStops120;
}

export function nextStripPatches(): i32 {
  return proposedPatches;
}

/** The strip that an evening begins with. */
export function usualStripFirstMs(): i32 {
  return FIRST_STRIP_MS;
}

export function usualStripStops120(): i32 {
  return FIRST_STRIP_STOPS120;
}

export function usualStripPatches(): i32 {
  return FIRST_STRIP_PATCHES;
}
