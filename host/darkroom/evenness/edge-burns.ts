import type { Edge } from '../../recipe/shape.js';
import { coverOf } from '../sheet/cover.js';
import type { LightField } from './light-field.js';

/** Burns of the edges that even the light out, and what is left between the lightest and the darkest place. */
export interface EdgeBurns {
  readonly burns: readonly EdgeBurn[];
  readonly beforeStops: number;
  readonly afterStops: number;
}

export interface EdgeBurn {
  readonly stops120: number;
  readonly shape: Edge;
}

const sides = ['top', 'bottom', 'left', 'right'] as const;
const STEP_STOPS120 = 10;
const DEPTHS_PERCENT = [20, 25, 30, 35, 40, 45, 50];
const GRID = 17;

/** In twelfths of a stop, all of one depth, so that a hand can give them; none where none helps by half a twelfth. */
export function proposeBurns(field: LightField): EdgeBurns {
  const places = placesOf(field);
  const beforeStops = spread(places.map(({ stops }) => stops));
  const best = DEPTHS_PERCENT.map((depth) => bestOfDepth(places, depth)).reduce((least, each) =>
    each.cost < least.cost ? each : least,
  );
  const burns = sides
    .map((side, at) => ({
      stops120: best.stops120[at]!,
      shape: { kind: 'edge' as const, side, depthPercent: best.depthPercent },
    }))
    .filter(({ stops120 }) => stops120 > 0);
  const afterStops = spread(litBy(best.covers, best.stops120, places));
  if (beforeStops - afterStops < STEP_STOPS120 / 240)
    return { burns: [], beforeStops, afterStops: beforeStops };
  return { burns, beforeStops, afterStops };
}

interface Place {
  readonly xPercent: number;
  readonly yPercent: number;
  readonly stops: number;
}

function placesOf(field: LightField): Place[] {
  return Array.from({ length: GRID * GRID }, (_, at) => {
    const [x, y] = [(at % GRID) / (GRID - 1), Math.floor(at / GRID) / (GRID - 1)];
    return { xPercent: 100 * x, yPercent: 100 * y, stops: field.stopsAt(2 * x - 1, 2 * y - 1) };
  });
}

interface Found {
  readonly depthPercent: number;
  readonly covers: readonly (readonly number[])[];
  readonly stops120: readonly number[];
  readonly cost: number;
}

/** One side a twelfth more or less at a time, as long as that makes the light more even. */
function bestOfDepth(places: readonly Place[], depthPercent: number): Found {
  const covers = sides.map((side) => {
    const cover = coverOf({ kind: 'edge', side, depthPercent }, 1);
    return places.map(({ xPercent, yPercent }) => cover(xPercent, yPercent));
  });
  const costOf = (stops120: readonly number[]) => unevenness(litBy(covers, stops120, places));
  let found = { stops120: [0, 0, 0, 0] as readonly number[], cost: costOf([0, 0, 0, 0]) };
  for (;;) {
    const better = neighbours(found.stops120)
      .map((stops120) => ({ stops120, cost: costOf(stops120) }))
      .reduce((least, each) => (each.cost < least.cost ? each : least), found);
    if (better === found) return { ...found, depthPercent, covers };
    found = better;
  }
}

const MOST_STOPS120 = 240;

function neighbours(stops120: readonly number[]): number[][] {
  return sides.flatMap((_, side) =>
    [STEP_STOPS120, -STEP_STOPS120]
      .map((step) => stops120.map((value, at) => (at === side ? value + step : value)))
      .filter((changed) => changed[side]! >= 0 && changed[side]! <= MOST_STOPS120),
  );
}

/** A burn of b stops adds 2^b - 1 of the base's light where its area is full. */
function litBy(
  covers: readonly (readonly number[])[],
  stops120: readonly number[],
  places: readonly Place[],
): number[] {
  const added = stops120.map((stops) => 2 ** (stops / 120) - 1);
  return places.map(
    ({ stops }, at) =>
      stops + Math.log2(1 + added.reduce((sum, each, side) => sum + each * covers[side]![at]!, 0)),
  );
}

function unevenness(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
}

function spread(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
