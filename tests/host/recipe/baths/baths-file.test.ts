import { describe, expect, it } from 'vitest';
import type { BathTimes } from '../../../../host/recipe/baths/bath.js';
import { readBaths, usualBathsFile, writeBaths } from '../../../../host/recipe/baths/index.js';
import { FileError, type RecipeProblem } from '../../../../host/recipe/index.js';
import { limits } from '../../../../shared-protocol/limits.js';
import { usualBaths } from '../../../../shared-protocol/usual-baths.js';

const developer = {
  label: 'developer',
  resinCoated: '1m30s',
  fibre: '2m30s',
  drain: '10s',
  agitation: '30s',
  limit: '40 x 8x10in',
};

function problemsOf(...baths: readonly object[]): readonly RecipeProblem[] {
  try {
    readBaths(JSON.stringify({ baths }, undefined, 2));
  } catch (error) {
    if (error instanceof FileError) return error.problems;
    throw error;
  }
  return [];
}

describe('a baths file', () => {
  // Source of the area: 8 x 10 inch of 2.54 cm is 516.13 cm2, computed; a board counts whole square centimetres.
  it('is read into whole seconds and whole square centimetres', () => {
    expect(readBaths(JSON.stringify({ notes: ['my own'], baths: [developer] }))).toEqual([
      {
        label: 'developer',
        resinCoatedSeconds: 90,
        fibreSeconds: 150,
        drainSeconds: 10,
        agitationSeconds: 30,
        limitCm2: 40 * 516,
      },
    ]);
  });

  it('needs of a bath no more than its name and one time; the other paper does not go in', () => {
    const nothing = { drainSeconds: 0, agitationSeconds: 0, limitCm2: 0 };
    expect(
      readBaths('{"baths":[{"label":"aid","fibre":"5m"},{"label":"dip","resinCoated":"20s","fibre":"0s"}]}'),
    ).toEqual([
      { label: 'aid', resinCoatedSeconds: 0, fibreSeconds: 300, ...nothing },
      { label: 'dip', resinCoatedSeconds: 20, fibreSeconds: 0, ...nothing },
    ]);
  });

  it('is written as it is read', () => {
    const row: BathTimes[] = [
      {
        label: 'a',
        resinCoatedSeconds: 1,
        fibreSeconds: 3600,
        drainSeconds: 0,
        agitationSeconds: 255,
        limitCm2: 1,
      },
      {
        label: 'b',
        resinCoatedSeconds: 0,
        fibreSeconds: 61,
        drainSeconds: 60,
        agitationSeconds: 0,
        limitCm2: 0,
      },
    ];
    expect(readBaths(writeBaths(row, ['a note']))).toEqual(row);
    expect(readBaths(writeBaths(row))).toEqual(row);
  });

  it('to start from is what a board has by itself, marked as what it is, with the usual cautions', () => {
    const usual = usualBathsFile();
    expect(readBaths(usual)).toEqual(usualBaths);
    for (const words of [
      'common practice, no source',
      'data sheet',
      'gloves',
      'air the room',
      'food',
      'local rules',
    ])
      expect(usual.toLowerCase()).toContain(words);
  });
});

describe('a bath that is wrong', () => {
  it.each<[string, object, string, RegExp]>([
    ['no name', { ...developer, label: '' }, 'baths[0].label', /must not be empty/],
    ['a long name', { ...developer, label: 'a'.repeat(17) }, 'baths[0].label', /at most 16 characters/],
    [
      'a field that is none',
      { ...developer, time: '90s' },
      'baths[0].time',
      /the fields here are label, resinCoated, fibre/,
    ],
    ['a time without unit', { ...developer, fibre: '150' }, 'baths[0].fibre', /'150' is not a time/],
    [
      'a time as a number',
      { ...developer, fibre: 150 },
      'baths[0].fibre',
      /a text in double quotes; given was 150/,
    ],
    ['half a second', { ...developer, drain: '10.5s' }, 'baths[0].drain', /finer than a second/],
    ['a bath of hours', { ...developer, fibre: '61m' }, 'baths[0].fibre', /to 1h is possible/],
    ['draining for long', { ...developer, drain: '5m' }, 'baths[0].drain', /too long; at most 4m15s/],
    [
      'an area without unit',
      { ...developer, limit: '20000' },
      'baths[0].limit',
      /20000cm2, 2m2 or 40 x 8x10in/,
    ],
    [
      'no area at all',
      { ...developer, limit: '0cm2' },
      'baths[0].limit',
      /out of range; from 1cm2 to 1000m2/,
    ],
    ['sheets of no size', { ...developer, limit: '40 x 8x0in' }, 'baths[0].limit', /is not a size/],
    ['a bath for no paper', { label: 'dip' }, 'baths[0]', /no paper goes in: give resinCoated or fibre/],
    [
      'draining all the time',
      { ...developer, drain: '90s' },
      'baths[0].drain',
      /resinCoated has only 1m30s in all/,
    ],
  ])('for %s says where and what is allowed', (_, bath, path, message) => {
    expect(problemsOf(bath)).toEqual([expect.objectContaining({ path, line: expect.any(Number) })]);
    expect(problemsOf(bath)[0]!.message).toMatch(message);
  });

  // A bath is known by its label: two of one shared a tally, and a used one looked fresh.
  it('for a label that an earlier bath has says which one', () => {
    const problems = problemsOf(developer, { ...developer, label: 'fixer' }, developer);
    expect(problems).toMatchObject([{ path: 'baths[2].label', line: 20 }]);
    expect(problems[0]!.message).toMatch(/^'developer' is bath 1 already.*give each its own$/);
  });

  it('is one of all that are wrong, in the order of the file, each with its line', () => {
    const problems = problemsOf({ ...developer, drain: '1' }, developer, { ...developer, label: '' });
    expect(problems.map(({ path, line }) => [path, line])).toEqual([
      ['baths[0].drain', 7],
      ['baths[2].label', 20],
    ]);
  });

  it('may be a row that is too long, or none', () => {
    const row = (length: number) =>
      Array.from({ length }, (_, at) => ({ ...developer, label: `bath ${at + 1}` }));
    expect(problemsOf(...row(limits.baths))).toEqual([]);
    expect(problemsOf(...row(limits.baths + 1))[0]!.message).toMatch(/at most 8 entries/);
    expect(problemsOf()[0]!.message).toMatch(/must not be empty/);
  });

  it('may be no JSON, or have comments', () => {
    expect(() => readBaths('{"baths": [')).toThrow(/line 1, column 12: /);
    expect(() => readBaths('// mine\n{}')).toThrow(/JSON has no comments; use the field notes/);
  });
});
