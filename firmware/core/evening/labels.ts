/** What the printer called the passes and dodges of the plan. */
import { ExposureKind } from '../generated/constants';
import { eveningPlan, SegmentKind } from '../plan/plan';
import { activeRecipe, dodgesBefore, recipeDodgeAt, recipePassAt } from '../recipe/recipe';

const NO_TEXT: usize = memory.data(1);

/** The label of a pass (from 0) as a text, empty for a patch. */
export function passLabel(index: i32): usize {
  if (eveningPlan.pass(index).kind == ExposureKind.Strip) return NO_TEXT;
  return recipePassAt(activeRecipe, index).label;
}

export function passFilter(index: i32): usize {
  if (eveningPlan.pass(index).kind == ExposureKind.Strip) return NO_TEXT;
  return recipePassAt(activeRecipe, index).filter;
}

/** The dodge's label for a piece that is one, and its pass's otherwise. */
export function pieceLabel(piece: i32): usize {
  const segment = eveningPlan.segment(piece);
  if (segment.kind != SegmentKind.Dodge) return passLabel(segment.pass);
  return recipeDodgeAt(activeRecipe, dodgesBefore(activeRecipe, segment.pass) + segment.dodge).label;
}
