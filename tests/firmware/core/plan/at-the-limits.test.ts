import { describe, expect, it } from 'vitest';
import { loadCore } from '../../../../host/recipe/planner/core.js';
import {
  loadPlanner,
  PlanError,
  type PlannableRecipe,
  type StripRequest,
} from '../../../../host/recipe/planner/index.js';
import { limits } from '../../../../shared-protocol/limits.js';

// What may be planned goes up to the very limit that the schema names, and not one further.

const planner = loadPlanner();
const core = loadCore();
const HOUR_MS = limits.longestDoseMs;
const FURTHEST = limits.offsetStops120;
/** The least that an ideal lamp's relay can be depended on for. */
const LEAST_MS = (() => {
  core.setLamp(0, 0);
  return core.minimumDoseMs();
})();

interface Offsets {
  readonly pass?: number;
  readonly burn?: number;
  readonly dodges?: readonly number[];
  readonly dryDown10?: number;
}

function recipe(
  baseMs: number,
  { pass = 0, burn, dodges = [], dryDown10 = 0 }: Offsets = {},
): PlannableRecipe {
  return {
    baseMs,
    dryDown10,
    passes: [
      {
        kind: burn === undefined ? 'base' : 'burn',
        label: 'sheet',
        filter: '',
        stops120: burn ?? pass,
        dodges: dodges.map((stops120) => ({ label: 'area', stops120 })),
      },
    ],
  };
}

function faultOf(plan: () => unknown): string {
  try {
    plan();
    return 'none';
  } catch (error) {
    if (error instanceof PlanError) return error.fault;
    throw error;
  }
}

describe('a recipe', () => {
  it.each<[string, PlannableRecipe, PlannableRecipe, string]>([
    ['a base of an hour', recipe(HOUR_MS), recipe(HOUR_MS + 1), 'base-out-of-range'],
    // A millisecond and ten stops are 1.024 s.
    [
      'a base of a millisecond',
      recipe(1, { pass: FURTHEST }),
      recipe(0, { pass: FURTHEST }),
      'base-out-of-range',
    ],
    ['the shortest base', recipe(LEAST_MS), recipe(LEAST_MS - 1), 'below-lamp'],
    [
      'half taken off for dry-down',
      recipe(9000, { dryDown10: 500 }),
      recipe(9000, { dryDown10: 501 }),
      'base-out-of-range',
    ],
    ['nothing taken off', recipe(9000), recipe(9000, { dryDown10: -1 }), 'base-out-of-range'],
    [
      'a pass far above the base',
      recipe(1000, { pass: FURTHEST }),
      recipe(1000, { pass: FURTHEST + 1 }),
      'stops-out-of-range',
    ],
    [
      'a pass far below it',
      recipe(HOUR_MS, { pass: -FURTHEST }),
      recipe(HOUR_MS, { pass: -FURTHEST - 1 }),
      'stops-out-of-range',
    ],
    [
      'a long burn',
      recipe(1000, { burn: FURTHEST }),
      recipe(1000, { burn: FURTHEST + 1 }),
      'stops-out-of-range',
    ],
    ['the least burn', recipe(HOUR_MS, { burn: 1 }), recipe(HOUR_MS, { burn: 0 }), 'stops-out-of-range'],
    [
      'the least dodge',
      recipe(HOUR_MS, { dodges: [-1] }),
      recipe(HOUR_MS, { dodges: [0] }),
      'stops-out-of-range',
    ],
    [
      'the most held back',
      recipe(HOUR_MS, { dodges: [-FURTHEST] }),
      recipe(HOUR_MS, { dodges: [-FURTHEST - 1] }),
      'stops-out-of-range',
    ],
  ])('may have %s, and no more', (_, last, beyond, fault) => {
    expect(faultOf(() => planner.planRecipe(last))).toBe('none');
    expect(faultOf(() => planner.planRecipe(beyond))).toBe(fault);
  });

  it('that is longer than an hour says so, however little it is above it', () => {
    expect(faultOf(() => planner.planRecipe(recipe(HOUR_MS, { pass: 1 })))).toBe('too-long');
    expect(faultOf(() => planner.planRecipe(recipe(HOUR_MS, { burn: 121 })))).toBe('too-long');
    expect(faultOf(() => planner.planRecipe(recipe(HOUR_MS, { burn: 120 })))).toBe('none');
  });

  // Source: a stop held back is half, by definition.
  it('gives a rest a pulse of its own as soon as the lamp can be depended on for it', () => {
    const rest = (baseMs: number) =>
      planner.planRecipe(recipe(baseMs, { dodges: [-120] })).passes[0]!.segments.at(-1)!;
    expect(rest(2 * LEAST_MS)).toMatchObject({ doseMs: LEAST_MS, joined: false, stopsFirst: true });
    expect(rest(2 * LEAST_MS - 1)).toMatchObject({ doseMs: LEAST_MS - 1, joined: true, stopsFirst: false });
  });
});

describe('a strip', () => {
  const strip = (firstMs: number, step: StripRequest['step'], patches = 2): StripRequest => ({
    ...{ firstMs, step, patches, cover: 'separate' },
  });
  it.each<[string, StripRequest, StripRequest, string]>([
    [
      'a first patch of nearly an hour',
      strip(HOUR_MS - 1, { equalMs: 1 }),
      strip(HOUR_MS + 1, { equalMs: 1 }),
      'base-out-of-range',
    ],
    [
      'the shortest first patch',
      strip(LEAST_MS, { stops120: 60 }),
      strip(LEAST_MS - 1, { stops120: 60 }),
      'below-lamp',
    ],
    [
      'steps of ten stops',
      strip(1000, { stops120: FURTHEST }),
      strip(1000, { stops120: FURTHEST + 1 }),
      'stops-out-of-range',
    ],
    [
      'ten stops from end to end',
      strip(1000, { stops120: FURTHEST / 5 }, 6),
      strip(1000, { stops120: FURTHEST / 5 + 1 }, 6),
      'stops-out-of-range',
    ],
    ['two patches', strip(1000, { stops120: 60 }, 2), strip(1000, { stops120: 60 }, 1), 'count-out-of-range'],
    [
      'all patches',
      strip(1000, { stops120: 60 }, limits.stripPatches),
      strip(1000, { stops120: 60 }, limits.stripPatches + 1),
      'count-out-of-range',
    ],
    [
      'the least step in time',
      strip(1000, { equalMs: 1 }),
      strip(1000, { equalMs: 0 }),
      'stops-out-of-range',
    ],
    [
      'a patch of an hour',
      strip(1000, { equalMs: HOUR_MS - 1000 }),
      strip(1000, { equalMs: HOUR_MS - 999 }),
      'too-long',
    ],
  ])('may have %s, and no more', (_, last, beyond, fault) => {
    expect(faultOf(() => planner.planStrip(last))).toBe('none');
    expect(faultOf(() => planner.planStrip(beyond))).toBe(fault);
  });

  it('has no step longer than an hour, whatever its patches come to', () => {
    expect(faultOf(() => planner.planStrip(strip(1000, { equalMs: HOUR_MS })))).toBe('too-long');
    expect(faultOf(() => planner.planStrip(strip(1000, { equalMs: HOUR_MS + 1 })))).toBe(
      'stops-out-of-range',
    );
  });
});

describe('what cannot be planned', () => {
  const figuresOf = (plan: () => unknown) => {
    try {
      plan();
    } catch (error) {
      if (error instanceof PlanError) return error.figures;
    }
    throw new Error('it was planned');
  };
  const pass = (dodges = 0) => ({
    ...{ kind: 'base', label: '', filter: '', stops120: 0 },
    dodges: Array.from({ length: dodges }, () => ({ label: '', stops120: -1 })),
  });
  const withPasses = (passes: readonly ReturnType<typeof pass>[]) =>
    figuresOf(() => planner.planRecipe({ baseMs: HOUR_MS, dryDown10: 0, passes } as PlannableRecipe));

  it('says in which pass and at which dodge, where it is in one, and names no figures where none matter', () => {
    expect(figuresOf(() => planner.planRecipe(recipe(HOUR_MS + 1)))).toEqual({
      ...{ neededMs: HOUR_MS + 1, allowedMs: HOUR_MS },
    });
    expect(figuresOf(() => planner.planRecipe(recipe(1000, { pass: FURTHEST + 1 })))).toEqual({
      ...{ pass: 0, neededMs: 0, allowedMs: 0 },
    });
    expect(figuresOf(() => planner.planRecipe(recipe(1000, { dodges: [-60, 0] })))).toEqual({
      ...{ pass: 0, dodge: 1, neededMs: 0, allowedMs: 0 },
    });
    const tooMany = Array.from({ length: limits.recipePasses + 1 }, () => pass());
    expect(withPasses(tooMany)).toEqual({ pass: limits.recipePasses, neededMs: 0, allowedMs: 0 });
    expect(withPasses([pass(), pass(limits.recipeDodges + 1)])).toEqual({
      ...{ pass: 1, dodge: limits.recipeDodges, neededMs: 0, allowedMs: 0 },
    });
  });

  it('is not a first time of an hour, which only has no patch behind it', () => {
    expect(
      faultOf(() =>
        planner.planStrip({ firstMs: HOUR_MS, step: { equalMs: 1 }, patches: 2, cover: 'separate' }),
      ),
    ).toBe('too-long');
  });
});
