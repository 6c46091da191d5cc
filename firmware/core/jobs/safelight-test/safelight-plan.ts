/**
 * The safelight test: light grey before on one half of the sheet, the safelight on bands across both, and light grey
 * after on the other half. Paper that has had light is more easily fogged than paper fresh from the box, so a
 * safelight that passes without the grey may still fail a print. (Totals of 1, 3 and 7 minutes on a density of 0.15 to
 * 0.40 above the paper: a manufacturer's guide to safelight testing.) The same with the safelight off all the time finds
 * the light that leaks into the room (common practice, no source).
 */

import { ExposureKind } from '../../generated/constants';
import { setLampFromSettings } from '../../plan/lamp-from-settings';
import { Plan, PlanCode } from '../../plan/plan';
import { addDose, endRecipe } from '../recipe/recipe-plan';

export const GREY_BEFORE: i32 = 1;
export const GREY_AFTER: i32 = 2;

/** The bands, in the order in which the card covers them, and the minutes of safelight, or of darkness, on each. */
const BAND_MINUTES: usize = memory.data<u8>([0, 1, 3, 7]);
export const FOG_BANDS: i32 = 4;

export function bandMinutes(band: i32): i32 {
  return load<u8>(BAND_MINUTES + band);
}

/** Two exposures of `greyMs`; what is between them is no business of the lamp. */
export function planFogTest(plan: Plan, kind: ExposureKind, greyMs: i32): PlanCode {
  setLampFromSettings();
  plan.begin(true);
  for (let half = GREY_BEFORE; half <= GREY_AFTER; half++) {
    addDose(plan, kind, greyMs);
    plan.pass(half - GREY_BEFORE).patch = u8(half);
  }
  return endRecipe(plan);
}
