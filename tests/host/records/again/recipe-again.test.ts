import { describe, expect, it } from 'vitest';
import { readRecipe } from '../../../../host/recipe/index.js';
import { loadPlanner } from '../../../../host/recipe/planner/index.js';
import type { PrintedSheet, Turn } from '../../../../host/records/again/printed-sheet.js';
import { recipeAgain } from '../../../../host/records/again/recipe-again.js';
import type { KeptRecipe } from '../../../../host/records/archive/archive.js';
import type { ExposureEntry } from '../../../../host/records/log/log-entry.js';
import { demoFile } from '../../recipe/demo-recipe.js';
import { printedSheet } from './printed.js';

const planner = loadPlanner();
const content = readRecipe(JSON.stringify({ ...demoFile(), name: 'boathouse', notes: 'mind the reeds' }));
/** 12.5 s; face held back for 12.5 x (1 - 2^(-1/3)) s; sky 12.5 x (2^(3/4) - 1) s: worked out by hand. */
const planned = { baseMs: 12_500, faceMs: 2579, skyMs: 8522 };
const kept: KeptRecipe[] = [
  { id: 1, recipe: content, content: 'one', how: 'sent', board: 'a', bodyCrc: null, keptMs: 0 },
];

type Light = Partial<ExposureEntry> & Pick<ExposureEntry, 'pass' | 'doseMs'>;

function sheetWith(lights: readonly Light[], more: Partial<PrintedSheet> = {}): PrintedSheet {
  const kinds = ['base', 'burn'] as const;
  const lit = lights.map((light) => ({
    ...{ kind: kinds[light.pass - 1]!, label: ['base', 'sky'][light.pass - 1]!, recipe: 'boathouse' },
    ...{ filter: ['2', '00'][light.pass - 1]!, onMs: light.doseMs, outcome: 'complete' as const },
    plannedMs: [planned.baseMs, planned.skyMs][light.pass - 1]!,
    ...light,
  }));
  return printedSheet(lit, { recipe: 'boathouse', version: 1, baseMs: planned.baseMs, ...more });
}

const base = { pass: 1, doseMs: planned.baseMs };
const sky = { pass: 2, doseMs: planned.skyMs };
const again = (sheet: PrintedSheet, from: readonly KeptRecipe[] = kept) => recipeAgain(planner, sheet, from);

describe('a recipe of a print as it was given', () => {
  it('is the recipe itself where it was given as planned, pauses or not, notes and all', () => {
    const made = again(sheetWith([{ ...base, pauses: 3, onMs: 13_000 }, sky]));
    expect(made).toMatchObject({ recipe: content, differences: [], unknown: [] });
  });

  it.each<[string, readonly Light[], readonly string[]]>([
    ['leaves out a burn that was not given', [base], ['burn sky +3/4 taken away']],
    // log2(1 + 2 x 8.522 / 12.5) = 1.2406 stops, 149/120: worked out by hand.
    ['makes one burn of one that was given twice', [base, sky, sky], ['burn sky +3/4 -> +1.240937']],
    // log2(1 + 4 / 12.5) = 0.400538 stops.
    [
      'takes of a burn that was left what it had got',
      [base, { ...sky, doseMs: 4000, outcome: 'stopped' }],
      ['burn sky +3/4 -> +0.400538'],
    ],
    // The face had 2.579 of 10 s: log2(0.7421) = -0.430314; sky log2(1 + 8.522 / 10) = 0.88924.
    [
      'makes the light of a base that was left early the base, and the rest refers to it',
      [{ ...base, doseMs: 10_000, outcome: 'stopped' }, sky],
      ['base 12.500 s -> 10.000 s', 'dodge face -1/3 -> -0.430314', 'burn sky +3/4 -> +0.88924'],
    ],
    // The rest after 10 of 12.5 s is the pass as planned.
    [
      'is as planned where a base that was left was gone on with',
      [{ ...base, doseMs: 10_000, outcome: 'stopped' }, { ...base, doseMs: 2500, plannedMs: 2500 }, sky],
      [],
    ],
    // Twice the light, and the face held back twice: the same part of it.
    [
      'keeps the dodge of a base that was given twice',
      [base, base],
      ['base 12.500 s -> 25.000 s', 'burn sky +3/4 taken away'],
    ],
  ])('%s', (_, lights, differences) => {
    expect(again(sheetWith(lights)).differences).toEqual(differences);
  });

  it('says an offset in whole 1/120 stop where that is as good as the log', () => {
    for (const offMs of [-2, 0, 2]) {
      const burnt = again(sheetWith([base, { ...sky, doseMs: planner.burnMs(12_500, 61)! + offMs }]));
      expect(burnt.recipe.passes[1]).toMatchObject({ label: 'sky', stops120: 61 });
    }
    const left = again(sheetWith([base, { ...sky, doseMs: planner.burnMs(12_500, 61)! + 12 }]));
    expect(Number.isInteger(left.recipe.passes[1]!.stops120)).toBe(false);
  });

  it('has what the knob turned, in pass and dodge, and the stops by which the lens was closed', () => {
    const turns: Turn[] = [
      { pass: 1, dodge: 1, stops120: -60 },
      { pass: 2, dodge: 0, stops120: 120 },
    ];
    const lights = [base, { pass: 2, doseMs: 12_500, plannedMs: 12_500 }];
    const made = again(sheetWith(lights, { turns, stoppedDown: 1 }));
    expect(made.differences).toEqual(['dodge face -1/3 -> -1/2', 'burn sky +3/4 -> +1']);
    expect(made.stoppedDown).toBe(1);
  });

  it('that was kept on the board and never came to a laptop follows from the version before it', () => {
    const turns: Turn[] = [
      { pass: 1, dodge: 1, stops120: -60 },
      { keptVersion: 2 },
      { pass: 1, dodge: 1, stops120: -80 },
    ];
    const made = again(sheetWith([base, sky], { turns, version: 2 }));
    expect(made.recipe.passes[0]!.dodges[0]).toMatchObject({ label: 'face', stops120: -80 });
    expect(made.recipe.version).toBe(2);
  });

  it('is made of the log alone where the archive has nothing of it, and says what is not known', () => {
    const made = again(sheetWith([base, sky]), []);
    expect(made.recipe).toMatchObject({
      ...{ name: 'boathouse', title: 'boathouse', baseMs: 12_500, negative: '', paper: '', notes: '' },
      ...{ aperture10: 0, magnification1000: 0, columnHeightMm: 0, focalLengthMm: 0, dryDown10: 0 },
      passes: [
        { kind: 'base', filter: '2', stops120: 0, dodges: [] },
        { kind: 'burn', label: 'sky', filter: '00', stops120: 90 },
      ],
    });
    expect(made.unknown[0]).toMatch(/no version 1 of 'boathouse'.*dodges/);
  });

  it('does not believe an archive whose recipe is not what the log says was planned', () => {
    const other = [{ ...kept[0]!, recipe: { ...content, passes: content.passes.slice(0, 1) } }];
    expect(again(sheetWith([base, sky]), other).unknown).toHaveLength(1);
  });

  it('of a plain exposure has its time and filter, and a name of its own', () => {
    const light = { pass: 1, doseMs: 8000, plannedMs: 8000, label: '', recipe: '', kind: 'plain' as const };
    const made = again(sheetWith([light], { job: 'plain', recipe: '', version: 0 }), []);
    expect(made).toMatchObject({ unknown: [], recipe: { name: 'print-2027-03-05-7', baseMs: 8000 } });
    expect(made.recipe.passes).toMatchObject([{ kind: 'base', label: 'base', filter: '2', stops120: 0 }]);
  });

  it('is refused for light that a power cut ended, unless that is taken as given', () => {
    const sheet = sheetWith([base, { ...sky, doseMs: 0, outcome: 'interrupted' }]);
    expect(() => again(sheet)).toThrow(
      /the power failed while pass 2, sky, was given: anything between nothing and the 8.522 s planned fell/,
    );
    expect(recipeAgain(planner, sheet, kept, { cut: 'all' }).differences).toEqual([]);
  });

  it('is refused for a strip, and for a sheet without light', () => {
    expect(() => again(sheetWith([], { job: 'strip' }))).toThrow('sheet 7 was a strip, not a print');
    expect(() => again(sheetWith([]))).toThrow('sheet 7 got no light');
  });
});
