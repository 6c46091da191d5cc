/** What the printer called the passes and dodges of the plan. */
import { ExposureKind, PassKind } from '../../generated/constants';
import { isDodge } from '../../plan/giving';
import { eveningPlan } from '../../plan/plan';
import { activeRecipe, dodgesBefore, recipeDodgeAt, recipePassAt } from '../../recipe/recipe';

export const NO_TEXT: usize = memory.data(1);

/** The label of a pass of the plan (from 0) as a text, empty where it comes from no recipe. */
export function passLabel(index: i32): usize {
  return isOfRecipe(index) ? recipePassAt(activeRecipe, eveningPlan.pass(index).recipePass).label : NO_TEXT;
}

export function passFilter(index: i32): usize {
  return isOfRecipe(index) ? recipePassAt(activeRecipe, eveningPlan.pass(index).recipePass).filter : NO_TEXT;
}

/** It is a burn, or a variant of one. */
export function isBurn(index: i32): bool {
  return recipePassAt(activeRecipe, eveningPlan.pass(index).recipePass).kind == PassKind.Burn;
}

export function isOfRecipe(index: i32): bool {
  switch (<ExposureKind>eveningPlan.pass(index).kind) {
    case ExposureKind.Base:
    case ExposureKind.Burn:
    case ExposureKind.Bracket:
      return true;
    default:
      return false;
  }
}

/** The dodge's label for a piece that is one, and its pass's otherwise. */
export function pieceLabel(index: i32): usize {
  const piece = eveningPlan.piece(index);
  if (!isDodge(index)) return passLabel(piece.pass);
  const dodges = dodgesBefore(activeRecipe, eveningPlan.pass(piece.pass).recipePass);
  return recipeDodgeAt(activeRecipe, dodges + piece.dodge).label;
}
