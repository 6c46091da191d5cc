import fc from 'fast-check';
import { expect, it } from 'vitest';
import { loadPlanner } from '../../../../host/recipe/planner/index.js';
import type { Recipe } from '../../../../host/recipe/recipe.js';
import type { PrintedSheet } from '../../../../host/records/again/printed-sheet.js';
import { recipeAgain } from '../../../../host/records/again/recipe-again.js';
import type { ExposureEntry } from '../../../../host/records/log/log-entry.js';
import { printedSheet } from './printed.js';

// Whatever became of a print, its recipe gives that again: each pass its light, each dodged area what it was spared of.

const planner = loadPlanner();
const SEED = 20270305;
/** What the lamp's figures and whole milliseconds leave open. */
const near = (ms: number) => Math.max(3, ms * 0.001);
/** A 1/120 stop, by which a dodge gives way that would fill its pass. */
const STOP_SHARE = 1 - 2 ** (-1 / 120);

const dodge = fc.integer({ min: -60, max: -10 }).map((stops120) => ({ label: '', stops120 }));
const dodges = fc
  .array(dodge, { maxLength: 2 })
  .map((all) => all.map((one, at) => ({ ...one, label: `area ${at}` })));
const recipe: fc.Arbitrary<Recipe> = fc
  .record({
    baseMs: fc.integer({ min: 5000, max: 60_000 }),
    dryDown10: fc.constantFrom(0, 0, 80),
    base: dodges,
    burns: fc.array(fc.record({ stops120: fc.integer({ min: 20, max: 240 }), dodges }), { maxLength: 2 }),
  })
  .map(({ baseMs, dryDown10, base, burns }) => ({
    ...{
      name: 'jetty',
      version: 3,
      title: 'Jetty',
      negative: '',
      paper: '',
      notes: 'on the ladder',
      history: [],
    },
    ...{ aperture10: 80, magnification1000: 0, columnHeightMm: 0, focalLengthMm: 0, baseMs, dryDown10 },
    passes: [
      { kind: 'base' as const, label: 'all', filter: '2', stops120: 0, dodges: base },
      ...burns.map((burn, at) => ({ ...burn, kind: 'burn' as const, label: `burn ${at}`, filter: '3' })),
    ],
  }));

/** What becomes of a pass; a share is of its planned light. */
type Fate = { readonly lights: readonly number[]; readonly goesOn?: true };
const share = fc.double({ min: 0.2, max: 0.95, noNaN: true });
const fate: fc.Arbitrary<Fate> = fc.oneof(
  fc.constant({ lights: [1] }),
  share.map((part) => ({ lights: [part] })),
  share.map((part) => ({ lights: [part, 1] })),
  share.map((part) => ({ lights: [part], goesOn: true as const })),
);
const burnFate = fc.oneof({ weight: 4, arbitrary: fate }, fc.constant<Fate>({ lights: [] }));

interface Given {
  /** Each time that the pass was begun. */
  readonly lightsMs: readonly number[];
  readonly logged: readonly Pick<ExposureEntry, 'plannedMs' | 'doseMs' | 'outcome'>[];
}

function given(plannedMs: number, { lights, goesOn }: Fate): Given {
  const lightsMs = lights.map((part) => Math.round(plannedMs * part));
  const logged = lightsMs.map((doseMs) => {
    const outcome = doseMs === plannedMs ? ('complete' as const) : ('stopped' as const);
    return { plannedMs, doseMs, outcome };
  });
  if (!goesOn) return { lightsMs, logged };
  const restMs = plannedMs - lightsMs[0]!;
  return {
    lightsMs: [plannedMs],
    logged: [...logged, { plannedMs: restMs, doseMs: restMs, outcome: 'complete' }],
  };
}

const sheet = (from: Recipe, passes: readonly Given[]): PrintedSheet =>
  printedSheet(
    passes.flatMap(({ logged }, at) => {
      const { kind, label, filter } = from.passes[at]!;
      return logged.map((light) => ({
        ...{ kind, label, filter, pass: at + 1, onMs: light.doseMs, recipe: from.name },
        ...light,
      }));
    }),
    { recipe: from.name, version: 3, baseMs: from.baseMs },
  );

/** So much of a pass's lights fell while this dodge was held: it lies from so far in a light on, for so long. */
function heldMs(lightsMs: readonly number[], fromMs: number, lengthMs: number): number {
  return lightsMs
    .map((lightMs) => Math.min(Math.max(lightMs - fromMs, 0), lengthMs))
    .reduce((sum, ms) => sum + ms, 0);
}

interface Spared {
  readonly label: string;
  readonly ms: number;
}

it('a print of any recipe that was left, begun anew or gone on with comes out again as it was given', () => {
  const check = (from: Recipe, base: Fate, burns: readonly Fate[]) => {
    fc.pre(planner.recipeFaults(from).length === 0);
    const plan = planner.planRecipe(from);
    const passes = plan.passes.map(({ doseMs }, at) => given(doseMs, at === 0 ? base : burns[at - 1]!));
    const kept = {
      id: 1,
      recipe: from,
      content: 'one',
      how: 'sent',
      board: 'a',
      bodyCrc: null,
      keptMs: 0,
    } as const;
    const again = recipeAgain(planner, sheet(from, passes), [kept]);
    const wanted = passes.flatMap(({ lightsMs }, at) => {
      const total = lightsMs.reduce((sum, ms) => sum + ms, 0);
      if (total === 0) return [];
      let fromMs = 0;
      const spared = from.passes[at]!.dodges.map(({ label }, nth): Spared => {
        const lengthMs = plan.passes[at]!.segments.filter(({ kind }) => kind === 'dodge')[nth]!.doseMs;
        const ms = heldMs(lightsMs, fromMs, lengthMs);
        fromMs += lengthMs;
        return { label, ms };
      });
      return [{ label: from.passes[at]!.label, total, spared: spared.filter(({ ms }) => ms > 0) }];
    });
    const made = planner.planRecipe(again.recipe);
    expect(again.recipe.passes.map(({ label }) => label)).toEqual(wanted.map(({ label }) => label));
    expect(again.recipe).toMatchObject({ notes: from.notes, version: 3 });
    for (const [at, { total, spared }] of wanted.entries()) {
      const { doseMs, segments } = made.passes[at]!;
      expect(Math.abs(doseMs - total)).toBeLessThanOrEqual(near(total));
      expect(again.recipe.passes[at]!.dodges.map(({ label }) => label)).toEqual(
        spared.map(({ label }) => label),
      );
      const held = segments.filter(({ kind }) => kind === 'dodge').map((segment) => segment.doseMs);
      const sum = spared.reduce((total, { ms }) => total + ms, 0);
      const room = total - sum < total * STOP_SHARE * 2 ? total * STOP_SHARE * 2 : 0;
      for (const [nth, { ms }] of spared.entries())
        expect(Math.abs(held[nth]! - ms)).toBeLessThanOrEqual(near(ms) + room);
    }
    const isAsPlanned = passes.every(
      ({ lightsMs }, at) => lightsMs[0] === plan.passes[at]!.doseMs && lightsMs.length === 1,
    );
    if (isAsPlanned) expect(again).toMatchObject({ recipe: from, differences: [] });
    else expect(again.differences).not.toEqual([]);
  };
  fc.assert(fc.property(recipe, fate, fc.tuple(burnFate, burnFate), check), { seed: SEED, numRuns: 400 });
});
