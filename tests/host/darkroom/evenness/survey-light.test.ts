import { describe, expect, it } from 'vitest';
import { proposeBurns } from '../../../../host/darkroom/evenness/edge-burns.js';
import { evennessRefusals } from '../../../../host/darkroom/evenness/evenness-refusal.js';
import {
  type SurveyAsked,
  sheetPlaces,
  surveyLight,
} from '../../../../host/darkroom/evenness/survey-light.js';
import { riseOfSlopeMm } from '../../../../host/darkroom/light/easel-light.js';
import type { Interval } from '../../../../host/darkroom/reading/strip-figures.js';
import { Random } from '../../../setup/random.js';
import { type GreyScans, type GreyWishes, greyScans } from './grey-scans.js';

const SEEDS = [1, 2, 3, 4];
const small = { size: 140 };

function byDarker(scans: GreyScans): SurveyAsked {
  return { grey: scans.scanOf(), by: { darker: scans.scanOf(0.5), stops: 0.5 }, device: 'flatbed' };
}

function byRange(scans: GreyScans): SurveyAsked {
  return { grey: scans.scanOf(), by: { rangeR: scans.rangeR, spreadR: 7 }, device: 'flatbed' };
}

function surveyed(asked: SurveyAsked) {
  const { refused, figures } = surveyLight(asked);
  expect(refused).toBeNull();
  return figures!;
}

const has = ({ low, high }: Interval, truth: number) => low <= truth && truth <= high;

// The virtual darkroom is the ground truth: no real sheet was surveyed.
describe('the light over an easel', () => {
  it.each([
    ['by a second, darker sheet', byDarker, 0.05],
    ["by the paper's range", byRange, 0.08],
  ] as const)('comes back from a grey sheet within the interval that is told, %s', (_, asked, most) => {
    const found = SEEDS.flatMap((seed) => {
      const scans = greyScans(new Random(seed), small);
      const { places } = surveyed(asked(scans));
      return Object.entries(sheetPlaces).map(([name, [across, down]]) => {
        const interval = places[name as keyof typeof places];
        return {
          off: interval.value - scans.truthAt(across, down),
          isIn: has(interval, scans.truthAt(across, down)),
        };
      });
    });
    expect(found.filter(({ isIn }) => isIn).length / found.length).toBeGreaterThanOrEqual(0.9);
    expect(Math.sqrt(found.reduce((sum, { off }) => sum + off * off, 0) / found.length)).toBeLessThan(most);
  });

  // A whole stop that was taken for half a one halved the fall-off, without a word.
  it('asks for the step of a second sheet that cannot be the usual one, and tells the range that follows from a told one', () => {
    for (const seed of SEEDS) {
      const scans = greyScans(new Random(seed), { ...small, rangeR: 105 });
      const surveyOf = (stops: number, isSupposed: boolean) =>
        surveyLight({
          grey: scans.scanOf(),
          by: { darker: scans.scanOf(1), stops, isSupposed },
          device: 'flatbed',
        });
      expect(surveyOf(0.5, true).refused).toBe('other-step');
      const usual = { darker: scans.scanOf(0.5), stops: 0.5, isSupposed: true };
      expect(surveyLight({ grey: scans.scanOf(), by: usual, device: 'flatbed' }).refused).toBeNull();
      const told = surveyOf(1, false).figures!;
      expect(Math.abs(told.rangeR! - 105)).toBeLessThan(21);
      expect(has(told.places['top left'], scans.truthAt(-1, -1))).toBe(true);
    }
  });

  // Three quarters of a stop that were taken for half a one told a fall-off a third too small.
  it('tells which other steps a supposed one may have been, and how much larger the fall-off is then', () => {
    for (const seed of SEEDS) {
      const scans = greyScans(new Random(seed), { ...small, rangeR: 120 });
      const surveyOf = (stops: number, isSupposed: boolean) =>
        surveyed({
          grey: scans.scanOf(),
          by: { darker: scans.scanOf(0.75), stops, isSupposed },
          device: 'flatbed',
        });
      const supposed = surveyOf(0.5, true);
      const other = supposed.otherSteps.find(({ stops }) => stops === 0.75)!;
      const right = surveyOf(0.75, false);
      expect(right.otherSteps).toEqual([]);
      expect(other.rangeR).toBeCloseTo(right.rangeR!, 5);
      const { value } = supposed.places['top left'];
      expect(Math.abs(other.times * value - right.places['top left'].value)).toBeLessThan(0.02);
    }
  });

  it('tells a tilted easel to the millimetre, and no tilt of a level one', () => {
    const lensHeightMm = 350;
    const surveyOf = (seed: number, riseAcross: number) =>
      surveyed(
        byDarker(greyScans(new Random(seed), { ...small, easel: { lensHeightMm, riseAcross, riseDown: 0 } })),
      ).slope;
    const tilted = SEEDS.map((seed) => surveyOf(seed, 0.04));
    for (const { across } of tilted) {
      expect(Math.abs(riseOfSlopeMm(across.value, lensHeightMm) - 0.04 * 240)).toBeLessThan(2.5);
      expect(across.low).toBeGreaterThan(0);
    }
    const level = SEEDS.flatMap((seed) => Object.values(surveyOf(seed, 0)));
    expect(level.filter((slope) => has(slope, 0)).length).toBeGreaterThanOrEqual(2 * SEEDS.length - 1);
  });

  it('is told from the slope of a scanner by turning the sheet on the glass', () => {
    const lensHeightMm = 350;
    const narrower = SEEDS.map((seed) => {
      const easel = { lensHeightMm, riseAcross: 0.02, riseDown: -0.02 };
      const scans = greyScans(new Random(seed), { ...small, border: false, easel });
      const asked = byDarker(scans);
      const one = surveyed(asked);
      const both = surveyed({ ...asked, turned: scans.scanOf(0, true) });
      expect([one.scanner, both.scanner]).toEqual(['not', 'by turning, in part']);
      const offMm = (slope: Interval, mm: number) => Math.abs(riseOfSlopeMm(slope.value, lensHeightMm) - mm);
      expect(offMm(both.slope.across, 0.02 * 240)).toBeLessThan(1.5);
      expect(offMm(both.slope.down, -0.02 * 180)).toBeLessThan(1.5);
      return offMm(both.slope.across, 0.02 * 240) < offMm(one.slope.across, 0.02 * 240);
    });
    expect(narrower.filter((isNarrower) => isNarrower).length).toBeGreaterThanOrEqual(3);
  });

  it('is evened out by the burns that are proposed, and by none where it is even', () => {
    const scans = greyScans(new Random(3), {
      ...small,
      easel: { lensHeightMm: 300, riseAcross: 0, riseDown: 0 },
    });
    const { burns, beforeStops, afterStops } = proposeBurns(surveyed(byDarker(scans)).field);
    expect(burns.map(({ shape }) => shape.side).sort()).toEqual(['bottom', 'left', 'right', 'top']);
    expect(burns.every(({ stops120 }) => stops120 % 10 === 0)).toBe(true);
    expect(beforeStops).toBeGreaterThan(0.5);
    expect(afterStops).toBeLessThan(beforeStops / 2.5);
    const far = greyScans(new Random(3), {
      ...small,
      easel: { lensHeightMm: 2500, riseAcross: 0, riseDown: 0 },
    });
    expect(proposeBurns(surveyed(byDarker(far)).field).burns).toEqual([]);
  });
});

describe('a sheet that tells nothing of the light', () => {
  const scansOf = (wishes: GreyWishes = {}) => greyScans(new Random(5), { ...small, ...wishes });
  const cases: [keyof typeof evennessRefusals, () => SurveyAsked][] = [
    ['camera', () => ({ ...byRange(scansOf()), device: 'phone' })],
    ['clipped', () => ({ ...byRange(scansOf()), grey: scansOf().scanOf(0, false, 'clipped') })],
    ['automatic-tone', () => ({ ...byRange(scansOf()), grey: scansOf().scanOf(0, false, 'automatic tone') })],
    ['no-white', () => byRange(scansOf({ border: false }))],
    ['too-light', () => byRange(scansOf({ grey: 0.2 }))],
    ['too-dark', () => byRange(scansOf({ grey: 1.85 }))],
    ['picture', () => byRange(scansOf({ onIt: (x, y) => 0.08 * Math.sin(7 * x) * Math.cos(6 * y) }))],
    ['no-sheet', () => byRange(scansOf({ onIt: (x) => (Math.abs(x) < 0.2 ? 0.4 : 0) }))],
    ['not-darker', () => ({ ...byDarker(scansOf()), by: { darker: scansOf().scanOf(), stops: 0.5 } })],
    [
      'another-sheet',
      () => ({ ...byDarker(scansOf()), by: { darker: scansOf({ border: false }).scanOf(0.5), stops: 0.5 } }),
    ],
    [
      'other-step',
      () => {
        const scans = scansOf({ rangeR: 105 });
        return {
          ...byDarker(scans),
          by: { darker: scans.scanOf(1), stops: 0.5, isSupposed: true },
        };
      },
    ],
    [
      'not-turned',
      () => {
        const tilted = scansOf({ easel: { lensHeightMm: 250, riseAcross: 0.12, riseDown: 0 } });
        return { ...byDarker(tilted), turned: tilted.scanOf() };
      },
    ],
  ];

  it.each(cases)('is refused: %s', (code, asked) => {
    expect(surveyLight(asked()).refused).toBe(code);
  });

  it('is refused with what to do, for every reason', () => {
    expect(cases.map(([code]) => code).sort()).toEqual(Object.keys(evennessRefusals).sort());
    for (const words of Object.values(evennessRefusals))
      expect(words).toMatch(/: .*(scan|crop|take|leave|expose|give|say|switch)/);
  });
});
