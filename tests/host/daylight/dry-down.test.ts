import { describe, expect, it } from 'vitest';
import {
  baseAfterDryDown,
  commonDryDown10,
  DryDownError,
  dryDownFromMatch,
  dryDownSeries10,
  dryDownSheet,
  dryDownSheetRecipe,
} from '../../../host/daylight/dry-down.js';
import { dryDownStops } from '../../../host/recipe/dry-down.js';
import { loadPlanner } from '../../../host/recipe/planner/index.js';

const planner = loadPlanner();

describe('dry-down', () => {
  // Source: log2(1 - d), computed, for the series of a printer's article on dry-down (8 to 12 per cent).
  it.each([
    [60, -0.0893],
    [80, -0.1203],
    [100, -0.152],
    [110, -0.1681],
    [120, -0.1844],
    [150, -0.2345],
  ])('of %d tenths of a per cent is %d stop', (dryDown10, stops) => {
    expect(dryDownStops(dryDown10)).toBeCloseTo(stops, 4);
  });

  // Source: the percentage comes off every exposure, base and burns alike (computed): 10 s and a burn of 5 s
  // become 9 s and 4.5 s at 10 per cent, and the burn stays the same in stops.
  it('comes off the base, and burns follow', () => {
    const burn = { kind: 'burn', label: 'sky', filter: '', stops120: 70, dodges: [] } as const;
    const base = { kind: 'base', label: 'base', filter: '', stops120: 0, dodges: [] } as const;
    const wet = planner.planRecipe({ baseMs: 10_000, passes: [base, burn] });
    const dry = planner.planRecipe({ baseMs: 10_000, dryDown10: 100, passes: [base, burn] });
    expect(dry.baseMs).toBe(9000);
    expect(dry.passes[1]!.doseMs / wet.passes[1]!.doseMs).toBeCloseTo(0.9, 3);
    expect(dry.passes[1]!.stops120).toBe(70);
  });

  // Source: 10 s x 2^(-n/120), computed: 4, 6, 8, 10, 12 and 15 per cent to the nearest 1/120 stop.
  it('is measured on one sheet: nothing off first, then ever more, each patch alone', () => {
    const sheet = dryDownSheet(planner, 10_000);
    expect(sheet.map(({ doseMs }) => doseMs)).toEqual([10_000, 9604, 9384, 9223, 9013, 8807, 8507]);
    expect(sheet[0]).toEqual({ patch: 1, dryDown10: 0, doseMs: 10_000 });
  });

  it('has a sheet that a board can give, whose figures are those of the light that it gets', () => {
    const { name, passes } = dryDownSheetRecipe(12_500, '2');
    expect(name).toBe('dry-down-12-5s-2');
    expect(passes.map(({ label, filter, stops120 }) => [label, filter, stops120])).toEqual([
      ['patch 1', '2', 0],
      ['patch 2', '2', -7],
      ['patch 3', '2', -11],
      ['patch 4', '2', -14],
      ['patch 5', '2', -18],
      ['patch 6', '2', -22],
      ['patch 7', '2', -28],
    ]);
    for (const { dryDown10, doseMs } of dryDownSheet(planner, 10_000))
      expect(Math.abs(doseMs - 10_000 * (1 - dryDown10 / 1000))).toBeLessThanOrEqual(6);
  });

  it('is read as a patch, or as between two', () => {
    expect(dryDownFromMatch(1)).toBe(0);
    expect(dryDownFromMatch(4)).toBe(78);
    expect(dryDownFromMatch(4.5)).toBe(89);
    for (const matched of [0, 8, 2.3, Number.NaN, dryDownSeries10.length + 0.5])
      expect(() => dryDownFromMatch(matched)).toThrow(DryDownError);
  });

  // Source: resin-coated paper hardly dries darker: a printer's article on dry-down.
  it('starts from nothing for resin-coated paper', () => {
    expect(commonDryDown10['resin-coated']).toBe(0);
  });

  it('is refused beyond a half', () => {
    expect(() => baseAfterDryDown(planner, 10_000, 501)).toThrow(DryDownError);
    expect(() => baseAfterDryDown(planner, 10_000, 7.5)).toThrow(DryDownError);
  });
});
