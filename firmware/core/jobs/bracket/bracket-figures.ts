/** What the knob turns of a bracket, and its plan. */
import { eveningPlan, PlanCode } from '../../plan/plan';
import { activeRecipe } from '../../recipe/recipe';
import { bracketSpread, chosen } from '../../state/state';
import { SpreadFigure, setSpreadFigure, spreadFigureAfter, spreadFigureValue } from '../spread-figures';
import { aimBracketAt } from './bracket-choice';
import { planBracket } from './bracket-plan';

/** There must be a recipe. */
export function planChosenBracket(): PlanCode {
  return planBracket(eveningPlan, activeRecipe, chosen.bracketPass, bracketSpread);
}

export function bracketFigureValue(): i32 {
  return chosen.figure == SpreadFigure.About ? chosen.bracketPass : spreadFigureValue(bracketSpread);
}

export function setBracketFigure(value: i32): void {
  if (chosen.figure == SpreadFigure.About) aimBracketAt(value);
  else setSpreadFigure(bracketSpread, value);
}

export function bracketFigureAfter(value: i32, clicks: i32): i32 {
  return chosen.figure == SpreadFigure.About ? value + clicks : spreadFigureAfter(value, clicks);
}
