import { describe, expect, it } from 'vitest';
import { recipeAdvice, stripAdvice } from '../../../host/daylight/advice.js';
import { readRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { demoFile } from '../recipe/demo-recipe.js';

const planner = loadPlanner();

function adviceFor(base: string, dodges: readonly string[] = [], lamp = { lagMs: 0, riseMs: 0 }) {
  const passes = [
    {
      kind: 'base',
      filter: '2',
      stops: '0',
      dodges: dodges.map((stops, at) => ({ label: `area ${at}`, stops })),
    },
  ];
  const recipe = readRecipe(JSON.stringify({ ...demoFile(), base, passes }));
  return recipeAdvice(planner, planner.planRecipe(recipe, { lamp })).map(({ kind, text }) => [kind, text]);
}

function adviceForStrip(firstMs: number, stops120: number, patches: number) {
  const strip = planner.planStrip({ firstMs, step: { stops120 }, patches, cover: 'cumulative' });
  return stripAdvice(strip).map(({ kind }) => kind);
}

describe('advice on a recipe', () => {
  it('is silent when nothing stands out', () => {
    expect(adviceFor('12.5s', ['-1/3'])).toEqual([]);
  });

  // time(n) = base x 2^n, from the definition: 3 s needs two stops to reach 8 s, and is 12 s then.
  it('says how many stops to close the lens by, and the time then', () => {
    expect(adviceFor('3s')).toEqual([['short-base', expect.stringMatching(/by 2 stops.* 12 s$/)]]);
    expect(adviceFor('4s')).toEqual([['short-base', expect.stringMatching(/by 1 stop,.* 8 s$/)]]);
    expect(adviceFor('8s')).toEqual([]);
  });

  it('says when dodging leaves too little of a pass', () => {
    expect(adviceFor('12s', ['-1', '-1/2'])).toEqual([
      ['long-dodges', expect.stringContaining('second base pass')],
    ]);
  });

  it('says which piece the lamp cannot give alone', () => {
    // Four stops leave 625 ms of 10 s; this lamp can be relied on from 681 ms: dose(2 x rise) by the lamp's model.
    const kinds = adviceFor('10s', ['-4'], { lagMs: 600, riseMs: 600 }).map(([kind]) => kind);
    expect(kinds).toEqual(['joined-segment', 'long-dodges']);
  });

  it('warns of long exposures', () => {
    expect(adviceFor('61s')).toEqual([['long-exposure', expect.stringContaining('61 s')]]);
  });
});

describe('advice on a strip', () => {
  it('is silent for five half stops', () => {
    expect(adviceForStrip(5000, 60, 5)).toEqual([]);
  });
  it.each([
    [1000, 120, 9, ['wide-strip', 'long-exposure']],
    [5000, 20, 3, ['narrow-strip']],
    [5000, 5, 3, ['narrow-strip', 'fine-step']],
    [40_000, 60, 3, ['long-exposure']],
  ])('of %i ms by %i/120 stop, %i patches, says %j', (firstMs, stops120, patches, kinds) => {
    expect(adviceForStrip(firstMs, stops120, patches)).toEqual(kinds);
  });
});
