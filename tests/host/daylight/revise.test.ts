import { describe, expect, it } from 'vitest';
import { readAperture } from '../../../host/darkroom/optics/aperture.js';
import { commonFilterTable } from '../../../host/daylight/filters/filter-table.js';
import { RescaleError } from '../../../host/daylight/rescale.js';
import { dryDownRecipe, refilterRecipe, rescaleRecipe } from '../../../host/daylight/revise/revise.js';
import { splitRecipe } from '../../../host/daylight/revise/split-recipe.js';
import { readRecipe, writeRecipe } from '../../../host/recipe/index.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';
import { readPrintSize } from '../../../host/recipe/print-size.js';
import { demoFile } from '../recipe/demo-recipe.js';

const planner = loadPlanner();
const at = new Date('2027-03-06T21:30:00Z');
/** 12.5 s at f/8, 4.25 x; a dodged base through filter 2, a burn through 00. */
const demo = readRecipe(JSON.stringify(demoFile()));

describe('a revised recipe', () => {
  it('is rescaled in any mix, says its new lens and size, and keeps the reasons in its history', () => {
    const { recipe, account } = rescaleRecipe(
      demo,
      { magnification: { to: 6 }, aperture: { from: readAperture('f/8'), to: readAperture('f/5.6') } },
      at,
    );
    // (7 / 5.25)^2 / 2 = 0.88889; 12.5 s becomes 11.111 s.
    expect(recipe.baseMs).toBe(11_111);
    expect([recipe.aperture10, recipe.magnification1000, recipe.version]).toEqual([56, 6000, 1]);
    expect(recipe.history).toEqual([
      `2027-03-06 6 times, from '${demo.name}' version 1`,
      '2027-03-06 magnification 4.25 to 6, x 1.778',
      '2027-03-06 f/8 to f/5.6, x 0.5',
      '2027-03-06 base 12.5s to 11.111s',
    ]);
    expect(recipe.passes).toEqual(demo.passes);
    expect(account.reasons.map(({ kind }) => kind)).toEqual(['size', 'aperture']);
  });

  // The same name would have taken the smaller print's place on the board.
  it('has a name of its own at another size, and keeps its own at another lens stop', () => {
    const to = (size: string, of = demo) =>
      rescaleRecipe(of, { paper: { from: readPrintSize('18x24cm'), to: readPrintSize(size) } }, at).recipe;
    const large = to('30x40cm');
    expect(large).toMatchObject({
      name: 'boathouse-at-30x40cm',
      title: `${demo.title}, 30 x 40 cm`,
      version: 1,
    });
    expect(to('8.5x11in', large)).toMatchObject({
      name: 'boathouse-8-5x11in',
      title: `${demo.title}, 8.5 x 11 in`,
    });
    expect(to('24x30cm', to('8.5x11in')).name).toBe('boathouse-24x30cm');
    const named = (name: string) => to('30x40cm', { ...demo, name }).name;
    expect(named('the-long-pier-at-low')).toBe('the-long-30x40cm');
    const stopped = rescaleRecipe(demo, { aperture: { to: readAperture('f/11') } }, at).recipe;
    expect(stopped).toMatchObject({ name: demo.name, title: demo.title, version: 2 });
  });

  it('can be written to its file and read again', () => {
    const { recipe } = rescaleRecipe(demo, { magnification: { to: 6 } }, at);
    expect(readRecipe(writeRecipe(recipe))).toEqual(recipe);
  });

  it('takes its own magnification for a change of papers, and forgets it where it no longer holds', () => {
    const paper = { from: readPrintSize('18x24cm'), to: readPrintSize('30x40cm') };
    expect(rescaleRecipe(demo, { paper }, at).recipe.magnification1000).toBe(Math.round((4250 * 40) / 24));
    const unknown = { ...demo, magnification1000: 0 };
    expect(rescaleRecipe(unknown, { paper }, at).recipe.magnification1000).toBe(0);
  });

  it('remembers the column that it was moved to', () => {
    const onColumn = { ...demo, magnification1000: 0, columnHeightMm: 312.5, focalLengthMm: 50 };
    const { recipe } = rescaleRecipe(onColumn, { columnMm: { to: 605 } }, at);
    expect([recipe.columnHeightMm, recipe.magnification1000]).toEqual([605, 10_000]);
  });

  it.each([
    ['contradicts its magnification', { magnification: { from: 3, to: 6 } }, /magnification is 4.25, not 3/],
    [
      'contradicts its aperture',
      { aperture: { from: readAperture('f/4'), to: readAperture('f/8') } },
      /aperture is f\/8, not f\/4/,
    ],
    ['says the size twice', { magnification: { to: 6 }, columnMm: { to: 600 } }, /in two ways/],
    ['needs a column that it does not know', { columnMm: { to: 600 } }, /does not say its column height/],
  ])('is refused where the request %s', (_what, change, words) => {
    expect(() => rescaleRecipe(demo, change, at)).toThrow(RescaleError);
    expect(() => rescaleRecipe(demo, change, at)).toThrow(words);
  });

  it('takes the factor of a new filter into that pass alone', () => {
    const { recipe } = refilterRecipe(planner, commonFilterTable, demo, 0, '4', at);
    expect(recipe.passes[0]).toMatchObject({ filter: '4', stops120: 120 });
    expect(recipe.passes[1]).toEqual(demo.passes[1]);
    expect(recipe.baseMs).toBe(demo.baseMs);
    expect(recipe.history[0]).toBe(
      "2027-03-06 base: filter 2 to filter 4: time x 2 (table 'common filters')",
    );
    expect(() => refilterRecipe(planner, commonFilterTable, demo, 7, '4', at)).toThrow(/has 2 passes, not 8/);
  });

  // Source: exposures add on the sheet, so a third of a stop off each is a third of a stop off the whole, computed;
  // a burn of +3/4 on 12.5 s adds 12.5 x (2^(3/4) - 1) = 8.522 s, by definition. The dodge once went with the soft
  // exposure alone, and the burn shrank with the base: +3/4 on 9 s is 6.136 s.
  it('becomes a split in which a dodge is held in both exposures and a burn keeps its seconds', () => {
    const strips = { soft: { filter: '00', doseMs: 9000 }, hard: { filter: '5', doseMs: 12_728 } };
    const { recipe, account } = splitRecipe(planner, demo, strips, at);
    expect(recipe.passes.map(({ kind, filter, stops120 }) => [kind, filter, stops120])).toEqual([
      ['base', '00', 0],
      ['base', '5', 60],
      ['burn', '00', 115.34052], // log2((9 + 8.522) / 9) = 0.961171 stop, computed
    ]);
    expect(recipe.passes.map(({ dodges }) => dodges)).toEqual([
      demo.passes[0]!.dodges,
      demo.passes[0]!.dodges,
      [],
    ]);
    const plan = planner.planRecipe(recipe);
    const openMs = plan.passes.map(({ doseMs }) => doseMs);
    expect(openMs).toEqual([9000, 12_728, 8522]);
    const heldMs = plan.passes.flatMap(({ segments }) => segments.filter(({ kind }) => kind === 'dodge'));
    const shareLeft = 1 - heldMs.reduce((sum, { doseMs }) => sum + doseMs, 0) / (9000 + 12_728);
    expect(Math.log2(shareLeft)).toBeCloseTo(-1 / 3, 3);
    expect(account.burns).toMatchObject([
      { label: 'sky', beforeStops120: 90, stops120: 115.34052, doseMs: 8522 },
    ]);
    expect(recipe.history).toContain('2027-03-06 sky: +3/4 to +0.961171, 8.522s');
  });

  it('is refused as a split where nobody could tell how much of the whole a dodge holds back', () => {
    const strips = { soft: { filter: '00', doseMs: 9000 }, hard: { filter: '5', doseMs: 12_728 } };
    const [base, burn] = demo.passes;
    const two = { ...demo, passes: [base!, { ...base!, dodges: [] }, burn!] };
    expect(() => splitRecipe(planner, two, strips, at)).toThrow(/2 base passes with different dodges/);
    const { recipe } = splitRecipe(planner, demo, strips, at);
    const again = splitRecipe(planner, recipe, { ...strips, hard: { filter: '5', doseMs: 9000 } }, at);
    expect(again.recipe.passes.map(({ stops120 }) => stops120)).toEqual([0, 0, 115.34052]);
  });

  it('takes its dry-down off in the plan, and says so', () => {
    const recipe = dryDownRecipe(demo, 80, at);
    expect(planner.planRecipe(recipe).baseMs).toBe(11_500);
    expect(recipe.history).toEqual(['2027-03-06 dry-down 0% to 8%, -0.12 stop']);
  });

  it('never outgrows what its file may hold', () => {
    let recipe = { ...demo, title: 'x'.repeat(80) };
    for (let change = 0; change < 210; change++) recipe = dryDownRecipe(recipe, change, at);
    expect(recipe.history).toHaveLength(200);
    const longName = { ...commonFilterTable, name: 'n'.repeat(80) };
    recipe = refilterRecipe(planner, longName, recipe, 0, '4', at).recipe;
    expect(readRecipe(writeRecipe(recipe)).history).toEqual(recipe.history);
  });
});
