import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { densityAt, logExposureFor } from '../../../host/darkroom/paper/characteristic-curve.js';
import {
  isoFiguresFrom,
  nearestStatedSpeed,
  ReadingsError,
  type StepReading,
} from '../../../host/darkroom/paper/iso-6846.js';
import { commonPaper, curveFrom, Paper, PaperError } from '../../../host/darkroom/paper/paper.js';

const seed = 20270305;

/** What a densitometer reads on a step wedge printed on the paper: 800 steps of 0.01 from -2.5 to 5.5. */
function densitometry(densityFor: (logExposure: number) => number): StepReading[] {
  return Array.from({ length: 800 }, (_, step) => {
    const logExposure = -2.5 + step * 0.01;
    return { logExposure, density: densityFor(logExposure) };
  });
}

describe('ISO 6846 figures from readings', () => {
  const wedge = (...points: [number, number][]): StepReading[] =>
    points.map(([logExposure, density]) => ({ logExposure, density }));

  // Source: Focal Encyclopedia of Photography, 'From Exposure to Print', p. 679 (the points and the range);
  // the worked figures are computed from that definition.
  it('finds T at 0.04 above base and S at 90 % of the net maximum', () => {
    // Base 0.05, maximum 2.05: T at 0.09, S at 0.05 + 0.9 x 2.00 = 1.85 (not 0.9 x 2.05 = 1.845).
    const figures = isoFiguresFrom(
      wedge([0, 0.05], [0.2, 0.09], [0.4, 0.25], [0.9, 1.05], [1.3, 1.85], [1.6, 2.05]),
      0.05,
    );
    expect(figures.logExposureT).toBeCloseTo(0.2, 9);
    expect(figures.logExposureS).toBeCloseTo(1.3, 9);
    expect(figures.logRange).toBeCloseTo(1.1, 9);
    expect(figures.rangeR).toBe(110);
  });

  // Source: P = 1000 / Hm, from memory of ISO 6846:1992; figures computed.
  it.each([
    [2, 500],
    [5, 200],
    [10, 100],
    [1.25, 800],
  ])('finds a paper that needs %d lux seconds for 0.60 above base to be P%d', (luxSeconds, speedP) => {
    const logM = Math.log10(luxSeconds);
    const figures = isoFiguresFrom(
      wedge([logM - 1, 0.05], [logM, 0.65], [logM + 0.6, 1.8], [logM + 1, 2.05]),
      0.05,
    );
    expect(figures.exactSpeedP).toBeCloseTo(speedP, 6);
    expect(figures.speedP).toBe(speedP);
  });

  it.each([
    [1.04, 100],
    [1.06, 110],
    [1.14, 110],
  ])('states a log range of %d as R%d', (logRange, rangeR) => {
    const figures = isoFiguresFrom(
      wedge([0, 0.09], [0.4, 0.7], [logRange, 1.85], [logRange + 0.5, 2.05]),
      0.05,
    );
    expect(figures.rangeR).toBe(rangeR);
  });

  it('states every speed within a sixth of a stop of the exact one', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 9999, noNaN: true }), (exact) => {
        expect(Math.abs(Math.log2(nearestStatedSpeed(exact) / exact))).toBeLessThan(1 / 6 + 0.03);
      }),
      { seed },
    );
  });

  it('says what to measure when the wedge was too short, unordered or too coarse', () => {
    const tooLight = wedge([0, 0.2], [0.5, 0.9], [1, 2]);
    expect(() => isoFiguresFrom(tooLight, 0.05)).toThrow(/point T .*add lighter or darker steps/);
    expect(() => isoFiguresFrom(wedge([0, 0.1], [0, 0.9], [1, 2]), 0.05)).toThrow(/step 2 .*sort the steps/);
    expect(() => isoFiguresFrom(wedge([0, 0.1], [1, 2]), 0.05)).toThrow(ReadingsError);
  });
});

describe('the characteristic curve', () => {
  it('measures, by the standard’s definition, to the speed and range that were asked for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 1600, noNaN: true }),
        fc.double({ min: 35, max: 200, noNaN: true }),
        fc.double({ min: 0, max: 0.2, noNaN: true }),
        fc.double({ min: 1.3, max: 2.4, noNaN: true }),
        (speedP, rangeR, baseDensity, netMaximum) => {
          const curve = curveFrom(
            { baseDensity, maximumDensity: baseDensity + netMaximum },
            { speedP, rangeR },
          );
          const figures = isoFiguresFrom(
            densitometry((logExposure) => densityAt(curve, logExposure)),
            baseDensity,
          );
          expect(figures.exactRangeR).toBeCloseTo(rangeR, 0);
          expect(Math.abs(Math.log10(figures.exactSpeedP / speedP))).toBeLessThan(0.002);
        },
      ),
      { seed, numRuns: 50 },
    );
  });

  it('never falls, stays between base and maximum, and inverts', () => {
    const curve = curveFrom(commonPaper, { speedP: 200, rangeR: 110 });
    let before = 0;
    for (let logExposure = -4; logExposure <= 5; logExposure += 0.01) {
      const density = densityAt(curve, logExposure);
      expect(density).toBeGreaterThanOrEqual(before);
      expect(density).toBeLessThanOrEqual(commonPaper.maximumDensity + 1e-12);
      before = density;
    }
    expect(densityAt(curve, logExposureFor(curve, 1.2))).toBeCloseTo(1.2, 9);
    expect(densityAt(curve, -4)).toBeCloseTo(commonPaper.baseDensity, 6);
  });

  // Source: common practice, no source: papers of grade 2 have a middle gradient somewhat above 2.
  it('gives a paper of R105 a middle gradient between 2 and 2.6', () => {
    const curve = curveFrom(commonPaper, { speedP: 200, rangeR: 105 });
    const middle = logExposureFor(curve, 1);
    const gradient = (densityAt(curve, middle + 0.05) - densityAt(curve, middle - 0.05)) / 0.1;
    expect(gradient).toBeGreaterThan(2);
    expect(gradient).toBeLessThan(2.6);
  });
});

describe('a paper with filters', () => {
  const paper = new Paper(commonPaper);

  it.each(Object.entries(commonPaper.filters))(
    'measures to its figures through filter "%s"',
    (filter, { speedP, rangeR }) => {
      const figures = isoFiguresFrom(
        densitometry((logExposure) => paper.densityAt(filter, logExposure)),
        commonPaper.baseDensity,
      );
      expect(figures.rangeR).toBe(rangeR);
      expect(figures.exactRangeR).toBeCloseTo(rangeR, 0);
      expect(figures.speedP).toBe(speedP);
    },
  );

  it('adds exposures through two filters in either order, and never prints lighter for more light', () => {
    const luxSeconds = fc.double({ min: 0.01, max: 50, noNaN: true });
    const filter = fc.constantFrom(...paper.filterNames);
    fc.assert(
      fc.property(filter, filter, luxSeconds, luxSeconds, luxSeconds, (soft, hard, first, second, more) => {
        const density = paper.densityOf([
          [soft, first],
          [hard, second],
        ]);
        expect(
          paper.densityOf([
            [hard, second],
            [soft, first],
          ]),
        ).toBeCloseTo(density, 9);
        expect(
          paper.densityOf([
            [soft, first + more],
            [hard, second],
          ]),
        ).toBeGreaterThanOrEqual(density - 1e-12);
      }),
      { seed },
    );
  });

  it('gives the same density for one exposure as for its parts through the same filter', () => {
    expect(
      paper.densityOf([
        ['2', 3],
        ['2', 4],
      ]),
    ).toBeCloseTo(paper.densityAt('2', Math.log10(7)), 9);
  });

  it('prints between the two when soft and hard exposures are mixed', () => {
    const range = (soft: number, hard: number) => {
      const readings = densitometry((logExposure) =>
        paper.densityOf([
          ['00', soft * 10 ** logExposure],
          ['5', hard * 10 ** logExposure],
        ]),
      );
      return isoFiguresFrom(readings, commonPaper.baseDensity).exactRangeR;
    };
    const shares = [0, 0.25, 0.5, 0.75, 1].map((hard) => range(1 - hard, 2 * hard));
    expect(shares[0]).toBeCloseTo(commonPaper.filters['00']!.rangeR, 0);
    expect(shares[4]).toBeCloseTo(commonPaper.filters['5']!.rangeR, 0);
    expect([...shares].sort((a, b) => b - a)).toEqual(shares);
  });

  it.each([
    ['maximumDensity', { ...commonPaper, maximumDensity: 0.5 }],
    ['filters.2.rangeR', { ...commonPaper, filters: { '2': { speedP: 200, rangeR: 5 } } }],
    ['filters', { ...commonPaper, filters: {} }],
  ])('is refused for a wrong %s', (field, figures) => {
    expect(() => new Paper(figures)).toThrow(PaperError);
    expect(() => new Paper(figures)).toThrow(expect.objectContaining({ field }));
  });

  it('names the filters that it has figures for', () => {
    expect(() => paper.densityAt('7', 0)).toThrow(/no figures for filter 7; it has 0, 1, .*no filter/);
  });
});
