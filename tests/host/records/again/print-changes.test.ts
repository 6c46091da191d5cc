import { describe, expect, it } from 'vitest';
import { type Recipe, readRecipe } from '../../../../host/recipe/index.js';
import { loadPlanner } from '../../../../host/recipe/planner/index.js';
import { printChanges } from '../../../../host/records/again/print-changes.js';
import { demoFile } from '../../recipe/demo-recipe.js';

const first = readRecipe(JSON.stringify({ ...demoFile(), name: 'boathouse' }));
const [base, sky] = first.passes;

const changesTo = (change: Partial<Recipe>) =>
  printChanges(loadPlanner(), first, { ...first, ...change })
    .filter(({ stops100 }) => stops100 !== 0)
    .map(({ what, first: before, second, stops100 }) => [what, before, second, stops100]);

describe('what changed between two prints, in stops:', () => {
  it('nothing, between two alike', () => {
    expect(changesTo({})).toEqual([]);
    expect(printChanges(loadPlanner(), first, first).map(({ what }) => what)).toEqual([
      'base',
      'dodge face',
      'burn sky',
    ]);
  });

  it.each<[string, Partial<Recipe>, unknown[][]]>([
    // log2(14 / 12.5) = 0.1635: worked out by hand.
    ['the base', { baseMs: 14_000 }, [['base', '12.500 s', '14.000 s', 16]]],
    // 8 % off: log2(0.92) = -0.1203.
    ['dry-down, which is a shorter base', { dryDown10: 80 }, [['base', '12.500 s', '11.500 s', -12]]],
    ['a burn', { passes: [base!, { ...sky!, stops120: 120 }] }, [['burn sky', '+0.75', '+1.00', 25]]],
    ['a burn that was left out', { passes: [base!] }, [['burn sky', '+0.75', '', -75]]],
    [
      'a dodge',
      { passes: [{ ...base!, dodges: [{ label: 'face', stops120: -60 }] }, sky!] },
      [['dodge face', '-0.33', '-0.50', -17]],
    ],
    [
      'a filter, whose light is another and not more or less',
      { passes: [{ ...base!, filter: '3' }, sky!] },
      [['filter of base pass', '2', '3', undefined]],
    ],
    // f/8 to f/11 is exactly one stop; f/5.6 is one stop more (ISO 517, whole-stop markings).
    ['the lens closed by a stop', { aperture10: 110 }, [['aperture', 'f/8', 'f/11', -100]]],
    ['the lens opened by a stop', { aperture10: 56 }, [['aperture', 'f/8', 'f/5.6', 100]]],
    ['a lens that nobody told of', { aperture10: 0 }, [['aperture', 'f/8', 'not told', undefined]]],
  ])('%s', (_, change, words) => {
    expect(changesTo(change)).toEqual(words);
  });
});
