import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changeFilter } from '../../../host/daylight/filters/change-filter.js';
import { filterAdvice } from '../../../host/daylight/filters/filter-advice.js';
import {
  commonFilterTable,
  FilterError,
  filterEntry,
  filterFactor,
  filterTableSchema,
  readFilterTable,
} from '../../../host/daylight/filters/filter-table.js';
import { SplitError, splitGrade } from '../../../host/daylight/filters/split-grade.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';

const planner = loadPlanner();
const seed = 20270305;

describe('the filter table', () => {
  // Source: filters to 3 1/2 alike, 4 and 5 double (a filter set's catalogue note); without a filter half
  // (US Navy NAVEDTRA 14209, chapter 11: 10 s with none, 20 s with no. 2, 40 s with no. 5).
  it.each([
    ['2', '3', 1],
    ['2', '4', 2],
    ['4', '2', 0.5],
    ['', '2', 2],
    ['', '5', 4],
  ])('takes a time from filter "%s" to filter "%s" by x %d', (from, to, factor) => {
    expect(filterFactor(commonFilterTable, from, to)).toBeCloseTo(factor, 12);
  });

  it('is the same there and back, whatever filters lie between', () => {
    const filter = fc.constantFrom(...commonFilterTable.filters.map((entry) => entry.filter));
    fc.assert(
      fc.property(filter, filter, filter, (a, b, c) => {
        const direct = filterFactor(commonFilterTable, a, c);
        const by = filterFactor(commonFilterTable, a, b) * filterFactor(commonFilterTable, b, c);
        expect(by).toBeCloseTo(direct, 12);
      }),
      { seed },
    );
  });

  it('satisfies its own schema and is read from a file of the printer’s own', () => {
    expect(filterTableSchema.parse(commonFilterTable)).toEqual(commonFilterTable);
    const own = {
      name: 'mine',
      filters: [
        { filter: '2', factor: 1 },
        { filter: '4', factor: 1.6, rangeR: 62 },
      ],
    };
    expect(readFilterTable(JSON.stringify(own)).toneHeld).toBe('middle');
  });

  it('says every fault of a file, and names what it knows when a filter is missing', () => {
    expect(() => readFilterTable('{"name":')).toThrow(/a value is missing here/);
    const twice = {
      name: 'x',
      filters: [
        { filter: '2', factor: 1 },
        { filter: '2', factor: 2 },
      ],
    };
    expect(() => readFilterTable(JSON.stringify(twice))).toThrow(
      /filters: each filter may be in the table once/,
    );
    const wrong = { name: '', filters: [{ filter: '2', factor: 0 }] };
    expect(() => readFilterTable(JSON.stringify(wrong))).toThrow(/name: .*\n.*filters\[0\]\.factor: /);
    expect(() => filterFactor(commonFilterTable, '2', '9')).toThrow(
      /filter 9 is not in the table 'common filters', which has no filter, filter 00/,
    );
  });
});

describe('a filter', () => {
  it.each([
    ['2.5', '2 1/2'],
    ['2\u00bd', '2 1/2'],
    ['3-1/2', '3 1/2'],
    [' 00 ', '00'],
    ['none', ''],
  ])('is the same however it is spelled: "%s" is "%s"', (spelled, filter) => {
    expect(filterEntry(commonFilterTable, spelled).filter).toBe(filter);
  });

  const advice = (baseFilter: string, burnFilter: string, baseStops120 = 0) =>
    filterAdvice(
      planner,
      commonFilterTable,
      planner.planRecipe({
        baseMs: 10_000,
        passes: [
          { kind: 'base', label: 'base', filter: baseFilter, stops120: baseStops120, dodges: [] },
          { kind: 'burn', label: 'sky', filter: burnFilter, stops120: 120, dodges: [] },
        ],
      }),
    );

  // A recipe through filter 6 was in order to one command, and unknown to the next.
  it.each(['6', 'g3'])('that the table has not is named before paper is spent: "%s"', (filter) => {
    const told = advice(filter, filter).filter(({ kind }) => kind === 'unknown-filter');
    expect(told.map(({ text }) => text)).toEqual([
      expect.stringContaining(
        `filter ${filter} is not in the table 'common filters', which has no filter, filter 00`,
      ),
    ]);
  });

  // Source: filters 4 and 5 take double (a filter set's catalogue note). Computed: +1 of 10 s adds 10 s; twice that,
  // 20 s, is log2(3) = 1.585 = 190 / 120 stop.
  it('of a burn that is not the base’s gets the base’s seconds: that is said, and the factor offered', () => {
    expect(advice('2', '4').map(({ text }) => text)).toEqual([
      "burn 'sky': +1 is 10 s, worked out for the base's filter 2; it is given through filter 4. By the table 'common filters' " +
        'that filter takes x 2, 20 s: write +1.584963 for as much light, unless the burn was found by trial through its own filter',
    ]);
    expect(advice('2', '6').map(({ text }) => text)[1]).toMatch(/has no factor for that$/);
    expect(advice('2', '00')).toEqual([]);
    // The base's own change from 2 to 4 is in its offset; what was 10 s through filter 2 still is.
    expect(advice('4', '2', 120)).toEqual([]);
    expect(advice('4', '4')).toEqual([]);
  });
});

describe('a filter change in a recipe', () => {
  it('moves a base pass by the factor, in its own offset: twice the time is one stop', () => {
    const change = changeFilter(
      planner,
      commonFilterTable,
      12_500,
      { kind: 'base', filter: '2', stops120: -40 },
      '4',
    );
    expect(change.stops120).toBe(80);
    expect(change.because).toBe("filter 2 to filter 4: time x 2 (table 'common filters')");
  });

  // Computed: a burn of +1 adds the base once; twice that is twice the base, log2 3 = 1.585 = 190.2 / 120.
  it('moves a burn so that what it adds is multiplied', () => {
    const change = changeFilter(
      planner,
      commonFilterTable,
      10_000,
      { kind: 'burn', filter: '00', stops120: 120 },
      '5',
    );
    expect(change.stops120 / 120).toBeCloseTo(Math.log2(3), 5);
  });

  // Computed: x 2 of 10 s is 20 s. In whole 1/120 stop the nearest was 10 x (2^(190/120) - 1) = 19.966 s, which was given.
  it('gives what the factor makes of a burn, to the millisecond', () => {
    const burn = { kind: 'burn', filter: '00', stops120: 120 } as const;
    const { stops120, doseMs } = changeFilter(planner, commonFilterTable, 10_000, burn, '4');
    expect(doseMs).toBe(20_000);
    expect(planner.burnMs(10_000, stops120)).toBe(20_000);
  });

  it('gives the factor as far as milliseconds tell for any pass and any table', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 5000, max: 60_000 }),
        fc.integer({ min: -200, max: 200 }),
        fc.double({ min: 0.2, max: 8, noNaN: true }),
        (baseMs, stops120, factor) => {
          const table = {
            ...commonFilterTable,
            filters: [
              { filter: 'a', factor: 1 },
              { filter: 'b', factor },
            ],
          };
          const change = changeFilter(planner, table, baseMs, { kind: 'base', filter: 'a', stops120 }, 'b');
          const before = planner.timeAtStopsMs(baseMs, stops120)!;
          const after = planner.timeAtStopsMs(baseMs, change.stops120)!;
          expect(Math.abs(after - before * factor)).toBeLessThanOrEqual((factor + 1) / 2 + 0.001);
        },
      ),
      { seed },
    );
  });

  it('is refused where the pass would be longer than an hour', () => {
    expect(() =>
      changeFilter(planner, commonFilterTable, 3_000_000, { kind: 'base', filter: '2', stops120: 0 }, '4'),
    ).toThrow(FilterError);
  });
});

describe('split grade from two strips', () => {
  it('makes two base passes: the soft time as the base, the hard one an offset from it', () => {
    const split = splitGrade(planner, {
      soft: { filter: '00', doseMs: 8000 },
      hard: { filter: '5', doseMs: 11_314 },
    });
    expect(split.baseMs).toBe(8000);
    expect(split.passes.map(({ filter, stops120 }) => [filter, stops120])).toEqual([
      ['00', 0],
      ['5', 60],
    ]);
    expect(split.hardMs).toBe(11_314);
  });

  it('keeps both times within 0.3 per cent, whatever the strips said', () => {
    const doseMs = fc.integer({ min: 1000, max: 120_000 });
    fc.assert(
      fc.property(doseMs, doseMs, (soft, hard) => {
        const split = splitGrade(planner, {
          soft: { filter: '00', doseMs: soft },
          hard: { filter: '5', doseMs: hard },
        });
        expect(split.baseMs).toBe(soft);
        expect(Math.abs(split.hardMs / hard - 1)).toBeLessThan(0.0031);
      }),
      { seed },
    );
  });

  it('takes two filters and times within ten stops of each other', () => {
    const soft = { filter: '00', doseMs: 8000 };
    expect(() => splitGrade(planner, { soft, hard: soft })).toThrow(SplitError);
    expect(() =>
      splitGrade(planner, { soft: { filter: '00', doseMs: 1 }, hard: { filter: '5', doseMs: 3_000_000 } }),
    ).toThrow(/ten stops apart/);
    expect(() => splitGrade(planner, { soft, hard: { filter: '5', doseMs: 0.5 } })).toThrow(
      /hard strip's time/,
    );
  });

  it('is refused where the soft filter is the harder one, as far as their ranges are known', () => {
    const soft = { filter: '00', doseMs: 8000, rangeR: 160 };
    const hard = { filter: '5', doseMs: 12_000, rangeR: 60 };
    expect(() => splitGrade(planner, { soft: hard, hard: soft })).toThrow(
      /filter 5, which prints harder \(R60\) than filter 00 \(R160\): were they swapped\?/,
    );
    expect(splitGrade(planner, { soft, hard }).baseMs).toBe(8000);
    expect(splitGrade(planner, { soft, hard: { ...hard, rangeR: undefined } }).baseMs).toBe(8000);
  });
});
