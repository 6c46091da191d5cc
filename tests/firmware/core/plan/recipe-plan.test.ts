import { describe, expect, it } from 'vitest';
import {
  loadPlanner,
  type PlanError,
  type PlannablePass,
  type PlannableRecipe,
} from '../../../../host/recipe/planner/index.js';
import { limits } from '../../../../shared-protocol/limits.js';

const planner = loadPlanner();

function base(stops120: number, ...dodges: number[]): PlannablePass {
  return {
    kind: 'base',
    label: 'base',
    filter: '2',
    stops120,
    dodges: dodges.map((offset, index) => ({ label: `area ${index + 1}`, stops120: offset })),
  };
}

function burn(stops120: number, ...dodges: number[]): PlannablePass {
  return { ...base(stops120, ...dodges), kind: 'burn', label: 'sky', filter: '00' };
}

const recipe = (baseMs: number, ...passes: PlannablePass[]): PlannableRecipe => ({ baseMs, passes });

/** Kind, dose and whether the lamp stops before it, of every segment of pass `index`. */
function work(plannable: PlannableRecipe, index = 0, dodgesStop = true) {
  return planner
    .planRecipe(plannable, { dodgesStop })
    .passes[index]!.segments.map(({ kind, doseMs, stopsFirst }) => [kind, doseMs, stopsFirst]);
}

function onlyFault(plannable: PlannableRecipe): PlanError {
  const faults = planner.recipeFaults(plannable);
  expect(faults).toHaveLength(1);
  return faults[0]!;
}

describe('the passes of a recipe', () => {
  // Source: time(n) and base x (2^b - 1), computed from their definitions.
  it('refer to the base: offsets of base passes and burns', () => {
    const plan = planner.planRecipe(recipe(10_000, base(0), base(-40), burn(120), burn(90)));
    expect(plan.passes.map((pass) => pass.doseMs)).toEqual([10_000, 7_937, 10_000, 6_818]);
    expect(plan.totalMs).toBe(10_000 + 7_937 + 10_000 + 6_818);
  });

  // Source: 10 s base, 3 s dodge, 8 s burn (US Army correspondence course SS0509-8, lesson 2) as -0.515 and
  // +0.848 stop: when the base doubles, the plan must scale to 6 s and 16 s. In 1/120 stop: -62 and +102.
  it('all double when the base does', () => {
    const plan = (baseMs: number) => planner.planRecipe(recipe(baseMs, base(0, -62), burn(102)));
    const [ten, twenty] = [plan(10_000), plan(20_000)];
    expect(twenty.passes[0]!.segments[0]!.doseMs / ten.passes[0]!.segments[0]!.doseMs).toBeCloseTo(2, 3);
    expect(twenty.passes[1]!.doseMs / ten.passes[1]!.doseMs).toBeCloseTo(2, 3);
    expect(Math.abs(twenty.passes[0]!.segments[0]!.doseMs - 6_000)).toBeLessThan(60);
    expect(Math.abs(twenty.passes[1]!.doseMs - 16_000)).toBeLessThan(60);
  });

  // Source: the percentage applies to base and every burn; 10 s and a burn of 5 s at 10 per cent are 9 and 4.5 s
  // (common practice, no source; computed).
  it('all lose the same part for a paper that dries darker', () => {
    const plan = planner.planRecipe({ ...recipe(10_000, base(0), burn(70)), dryDown10: 100 });
    const without = planner.planRecipe(recipe(10_000, base(0), burn(70)));
    expect(plan.baseMs).toBe(9_000);
    expect(plan.passes[0]!.doseMs).toBe(9_000);
    expect(Math.abs(plan.passes[1]!.doseMs - 0.9 * without.passes[1]!.doseMs)).toBeLessThan(1);
  });

  // Source: 10.001 s x 0.9 = 9000.9 ms, computed; rounded half up to the base that all else refers to.
  it('refer to a base that is a whole number of milliseconds after dry-down, too', () => {
    expect(planner.planRecipe({ ...recipe(10_001, base(0)), dryDown10: 100 }).baseMs).toBe(9_001);
  });

  it('keep their labels and filters', () => {
    const [first, second] = planner.planRecipe(recipe(10_000, base(0, -40), burn(90))).passes;
    expect(first!.segments.map((segment) => segment.label)).toEqual(['area 1', 'base']);
    expect(second).toMatchObject({ kind: 'burn', label: 'sky', filter: '00', stops120: 90 });
  });
});

describe('the dodges of a pass', () => {
  // Source: base x (1 - 2^-d), computed; one stop of 10 s holds back 5 s.
  it('run one after another in their order, then comes the open rest', () => {
    expect(work(recipe(10_000, base(0, -40, -60)))).toEqual([
      ['dodge', 2_063, true],
      ['dodge', 2_929, true],
      ['open', 5_008, true],
    ]);
  });

  // Source: the definition, on the dose of the pass itself: 10 s a stop down is 5 s, of which half is held back.
  it('refer to the dose of their own pass', () => {
    expect(work(recipe(10_000, base(-120, -120)))).toEqual([
      ['dodge', 2_500, true],
      ['open', 2_500, true],
    ]);
    expect(work(recipe(10_000, base(0), burn(120, -120)), 1)).toEqual([
      ['dodge', 5_000, true],
      ['open', 5_000, true],
    ]);
  });

  it('may use up all that the pass has', () => {
    expect(work(recipe(10_000, base(0, -120, -120)))).toEqual([
      ['dodge', 5_000, true],
      ['dodge', 5_000, true],
    ]);
  });

  it('run through without a stop when the board is set so', () => {
    expect(work(recipe(10_000, base(0, -40, -60)), 0, false)).toEqual([
      ['dodge', 2_063, true],
      ['dodge', 2_929, false],
      ['open', 5_008, false],
    ]);
  });

  it('that need more than the pass has are refused with both figures and a way out', () => {
    const error = onlyFault(recipe(12_500, base(0, -120, -125)));
    expect(error.fault).toBe('dodges-too-long');
    expect(error.figures).toEqual({ pass: 0, neededMs: 12_678, allowedMs: 12_500 });
    expect(error.message).toContain('12.678 s');
    expect(error.message).toContain('12.500 s');
    expect(error.wayOut).toContain('two base passes');
  });

  it('shorter than the lamp can be depended on for are refused with both figures', () => {
    const error = onlyFault(recipe(2_000, base(0, -1)));
    expect(error.fault).toBe('below-lamp');
    expect(error.figures).toEqual({ pass: 0, dodge: 0, neededMs: 12, allowedMs: 40 });
  });

  it('are joined by a rest too short for a pulse of its own, and the plan says so', () => {
    const [dodge, other, rest] = planner.planRecipe(recipe(10_000, base(0, -120, -119))).passes[0]!.segments;
    expect([dodge!.doseMs, other!.doseMs, rest!.doseMs]).toEqual([5_000, 4_971, 29]);
    expect(rest).toMatchObject({ kind: 'open', stopsFirst: false, joined: true, onMs: 29 });
    expect([dodge!.joined, other!.joined]).toEqual([false, false]);
  });

  it('leave a rest that an afterglow alone would overrun: refused', () => {
    const lamp = { lagMs: -500, riseMs: 500 };
    const faults = planner.recipeFaults(recipe(10_000, base(0, -120, -115)), { lamp });
    expect(faults.map((error) => error.fault)).toEqual(['below-lamp']);
  });
});

describe('a recipe that cannot be', () => {
  it.each<[string, PlannableRecipe, string]>([
    ['with a base of nothing', recipe(0, base(0)), 'base-out-of-range'],
    ['with a base of two hours', recipe(7_200_000, base(0)), 'base-out-of-range'],
    ['with no pass', recipe(10_000), 'count-out-of-range'],
    ['with a burn of nothing', recipe(10_000, burn(0)), 'stops-out-of-range'],
    ['with a burn below nothing', recipe(10_000, burn(-60)), 'stops-out-of-range'],
    ['with a dodge that adds', recipe(10_000, base(0, 60)), 'stops-out-of-range'],
    ['with an offset beyond ten stops', recipe(10_000, base(1_201)), 'stops-out-of-range'],
    ['with a pass of more than an hour', recipe(600_000, base(360)), 'too-long'],
    ['with a burn of more than an hour', recipe(600_000, burn(360)), 'too-long'],
    ['with a pass that the lamp cannot give', recipe(100, base(-240)), 'below-lamp'],
    ['with a pass of less than a millisecond', recipe(100, base(-1_200)), 'below-lamp'],
    ['with a burn of less than a millisecond', recipe(50, burn(1)), 'below-lamp'],
  ])('%s is refused, and a dodge is named only where one is at fault', (what, plannable, fault) => {
    const error = onlyFault(plannable);
    expect(error.fault).toBe(fault);
    expect(error.figures.dodge).toBe(what.includes('dodge') ? 0 : undefined);
  });

  it('with no pass is no matter of any time', () => {
    expect(onlyFault(recipe(10_000)).figures).toEqual({ neededMs: 0, allowedMs: 0 });
  });

  it('with more passes or dodges than a board holds is refused, and one with just as many is not', () => {
    const passes = (count: number) => Array.from({ length: count }, () => base(0, -20, -20));
    const { recipePasses, recipeDodges } = limits;
    expect(planner.planRecipe(recipe(10_000, ...passes(recipePasses))).passes).toHaveLength(recipePasses);
    expect(recipeDodges).toBe(2 * recipePasses);
    const [first, ...others] = passes(recipePasses);
    const oneDodgeMore = { ...first!, dodges: [...first!.dodges, first!.dodges[0]!] };
    expect(onlyFault(recipe(10_000, oneDodgeMore, ...others)).fault).toBe('count-out-of-range');
    expect(onlyFault(recipe(10_000, ...passes(recipePasses + 1))).fault).toBe('count-out-of-range');
  });

  it('tells what is wrong in every pass at once', () => {
    const faults = planner.recipeFaults(recipe(10_000, base(0, -120, -240), base(0), burn(0)));
    expect(faults.map(({ fault, figures }) => [figures.pass, fault])).toEqual([
      [0, 'dodges-too-long'],
      [2, 'stops-out-of-range'],
    ]);
  });
});
