import { describe, expect, it } from 'vitest';
import { previewPrint } from '../../../host/darkroom/index.js';
import { boathouseNegative } from '../../../host/darkroom/negative/demo-negative.js';
import { Paper } from '../../../host/darkroom/paper/paper.js';
import { contrastAdvice } from '../../../host/daylight/contrast/contrast.js';
import { standardGrades } from '../../../host/daylight/contrast/grade-table.js';
import { filterAdvice } from '../../../host/daylight/filters/filter-advice.js';
import { commonFilterTable, filterFactor } from '../../../host/daylight/filters/filter-table.js';
import {
  measuredFactor,
  measuredFilters,
  measuredWords,
} from '../../../host/daylight/papers/measured-filters.js';
import { type MeasuredPaper, paperProfileOf } from '../../../host/daylight/papers/measured-paper.js';
import { measuredPaperFile } from '../../../host/daylight/papers/measured-paper-file.js';
import { otherPaper } from '../../../host/daylight/papers/other-paper.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { usualRecipe } from '../../../host/recipe/usual-recipe.js';
import { keptStrip, papers } from './read-papers.js';

async function measured(
  name: keyof typeof papers,
  filters: readonly string[],
  lux?: number,
): Promise<MeasuredPaper> {
  const rows = filters.map((filter) => ({
    paper: name,
    developer: 'print 1:9',
    body: keptStrip(papers[name], filter, lux),
    keptMs: 0,
  }));
  return (await paperProfileOf({ paperReadings: async () => rows }, name))!;
}

describe('a measured paper', () => {
  // The interval of a speed was that of the filter's factor: through the reference filter it was none at all.
  it('is written as a file with the intervals that its profile has, and a speed that was not measured has none', async () => {
    const metered = await measured('Pearl', ['2', '4'], 2);
    measuredPaperFile(metered).filters.forEach(({ speedP95, rangeR95 }, at) => {
      const { speedP, rangeR } = metered.profile.filters[at]!;
      expect(speedP95).toEqual([speedP!.low, speedP!.high].map((each) => Number(each.toFixed(1))));
      expect(rangeR95).toEqual([rangeR!.low, rangeR!.high].map((each) => Number(each.toFixed(1))));
    });
    const unmetered = measuredPaperFile(await measured('Pearl', ['2', '4']));
    expect(unmetered.filters.every(({ speedP95 }) => speedP95 === undefined)).toBe(true);
  });

  it('gives filter factors with the interval that its strips tell, and common ones where there is no strip', async () => {
    const pearl = await measured('Pearl', ['2', '4']);
    const table = measuredFilters(pearl);
    const truth = 160 / 90;
    expect(filterFactor(table, '2', '4') / truth).toBeCloseTo(1, 1);
    const { low, high } = measuredFactor(pearl, '2', '4')!;
    expect(low < truth && truth < high).toBe(true);
    expect(table.factorSource!('2', '4')).toMatch(
      /^2 strips of Pearl in print 1:9, which say x 1\.\d\d to \d\.\d\d in 95/,
    );
    expect(filterFactor(table, '2', '5')).toBeCloseTo(filterFactor(commonFilterTable, '2', '5'), 4);
    expect(table.factorSource!('2', '5')).toMatch(/, through filter 2; through filter 5 common practice$/);
  });

  it('answers which filter a negative needs by its own ranges, and says which of them are measured', async () => {
    const tables = { grades: standardGrades, filters: measuredFilters(await measured('Pearl', ['2', '4'])) };
    const near = contrastAdvice(79, tables);
    expect(near.filter!.filter).toMatch(/^(4|3 1\/2)$/);
    expect(near.filterSource).toMatch(
      near.filter!.filter === '4' ? /^measured by 1 strip, R/ : /^common practice/,
    );
    expect(contrastAdvice(170, tables).filterSource).toBe('common practice, not measured');
    expect(contrastAdvice(79, { ...tables, filters: commonFilterTable }).filterSource).toBeUndefined();
  });

  it('is what a burn through another filter is worked out by', async () => {
    const planner = loadPlanner();
    const [base] = usualRecipe.passes;
    const recipe = {
      ...usualRecipe,
      passes: [
        { ...base!, filter: '2' },
        { kind: 'burn' as const, label: 'sky', filter: '4', stops120: 120, dodges: [] },
      ],
    };
    const table = measuredFilters(await measured('Pearl', ['2', '4']));
    const [advice] = filterAdvice(planner, table, planner.planRecipe(recipe));
    expect(advice!.text).toMatch(/That filter takes x 1\.\d+ \(2 strips of Pearl in print 1:9, which say/);
  });

  it('leads to another measured paper by both speeds, and to the filter that comes nearest to the contrast', async () => {
    const [pearl, matt] = [await measured('Pearl', ['2'], 2), await measured('Matt', ['2', '1'], 1.5)];
    const { factor, speedP, words } = otherPaper(pearl, matt, '2');
    expect(factor.low).toBeLessThan(0.5);
    expect(factor.high).toBeGreaterThan(0.5);
    expect(speedP.from / speedP.to).toBeCloseTo(factor.value, 2);
    expect(words[0]).toMatch(/x 0\.\d\d to 0\.\d\d in 95 of 100 cases, by 1 strip of Pearl/);
    expect(words[1]).toMatch(/the range was R1\d\d and will be R\d+ .*: filter 1 comes nearest/);
  });

  it('is not laid beside another where nobody measured how quick it is', async () => {
    const [pearl, matt] = [await measured('Pearl', ['2']), await measured('Matt', ['2'], 1.5)];
    expect(() => otherPaper(pearl, matt, '2')).toThrow(
      /speed of Pearl in print 1:9 through filter 2 was not measured.*--lux/,
    );
  });

  it('prints as its own curve does, and not as the common one', async () => {
    const pearl = await measured('Pearl', ['2', '4']);
    const plan = loadPlanner().planRecipe({
      ...usualRecipe,
      passes: [{ ...usualRecipe.passes[0]!, filter: '4' }],
    });
    const negative = boathouseNegative(60);
    const greys = (paper: Paper) => previewPrint(usualRecipe, plan, { negative, paper }).picture.pixels;
    const off = (one: Uint8Array, other: Uint8Array) =>
      one.reduce((sum, grey, at) => sum + Math.abs(grey - other[at]!), 0) / one.length;
    const truth = greys(papers.Pearl);
    expect(off(greys(new Paper(pearl.figures)), truth)).toBeLessThan(4);
    expect(measuredWords(pearl, ['4', '5'])).toEqual([
      expect.stringMatching(
        /^On Pearl in print 1:9, version 2 of its profile; its black is (measured|assumed)\.$/,
      ),
      expect.stringMatching(/^filter 4: R\d+, measured by 1 strip, R\d+ to R\d+ in 95 of 100 cases\.$/),
      'filter 5: R50, common practice, not measured.',
    ]);
  });
});
