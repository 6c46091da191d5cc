export { type CarriedSegment, PulseError } from './carry-out.js';
export { idealLamp, type Lamp } from './lamp.js';
export { PlanError, type PlanFault, type PlanFigures } from './plan-error.js';
export { loadPlanner, type Planner } from './planner.js';
export type {
  PlannableDodge,
  PlannablePass,
  PlannableRecipe,
  PlannedPass,
  PlannedSegment,
  RecipeConditions,
  RecipePlan,
} from './recipe.js';
export type { Patch, StripExposure, StripPlan, StripRequest } from './strip.js';
