/** How far one click turns what is in a recipe. */
import { limits } from '../../../../shared-protocol/limits.js';
import { loadPlanner } from '../../../recipe/planner/index.js';

/** A twelfth of a stop: what the eye just misses (from memory), so that nothing between two clicks is lost. */
const CLICK120 = 10;
const MOST_DRY_DOWN10 = 500;
const DRY_DOWN_CLICK10 = 5;

export function baseTurned(fromMs: number, clicks: number): number | undefined {
  const stops120 = clicks * CLICK120;
  return Math.abs(stops120) > limits.offsetStops120
    ? undefined
    : loadPlanner().timeAtStopsMs(fromMs, stops120);
}

export function stopsTurned(from120: number, clicks: number): number | undefined {
  const stops120 = from120 + clicks * CLICK120;
  return Math.abs(stops120) > limits.offsetStops120 ? undefined : stops120;
}

/** A burn is more light. */
export function burnTurned(from120: number, clicks: number): number | undefined {
  const stops120 = stopsTurned(from120, clicks);
  return stops120 !== undefined && stops120 > 0 ? stops120 : undefined;
}

/** A dodge is less light. */
export function dodgeTurned(from120: number, clicks: number): number | undefined {
  const stops120 = stopsTurned(from120, clicks);
  return stops120 !== undefined && stops120 < 0 ? stops120 : undefined;
}

export function dryDownTurned(from10: number, clicks: number): number | undefined {
  const dryDown10 = from10 + clicks * DRY_DOWN_CLICK10;
  return dryDown10 < 0 || dryDown10 > MOST_DRY_DOWN10 ? undefined : dryDown10;
}
