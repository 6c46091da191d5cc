import { describe, expect, it } from 'vitest';
import { MonotoneCurve, pooled } from '../../../../host/darkroom/reading/monotone-curve.js';

// Outside check: isotonic_regression and PchipInterpolator of SciPy 1.17.1, run once by hand.
describe('the curve through a strip', () => {
  it('pools what is out of order as a general library does', () => {
    const expected = [0.02, 0.045, 0.045, 0.29, 0.29, 0.31, 0.9, 1.2];
    const got = pooled([0.02, 0.05, 0.04, 0.3, 0.28, 0.31, 0.9, 1.2]);
    got.forEach((value, at) => {
      expect(value).toBeCloseTo(expected[at]!, 12);
    });
  });

  // That library weighs neighbours' slopes in another way, so the curves are alike to a hundredth and not the same.
  it('lies within 0.01 of another monotone cubic', () => {
    const densities = [0.01, 0.06, 0.21, 0.55, 1.02, 1.47, 1.74];
    const curve = new MonotoneCurve(densities.map((y, at) => ({ x: at / 2, y })));
    const expected = {
      0.25: 0.02562,
      0.75: 0.11835,
      1.25: 0.3567,
      1.75: 0.77685,
      2.25: 1.26029,
      2.75: 1.62469,
    };
    for (const [x, y] of Object.entries(expected))
      expect(Math.abs(curve.at(Number(x)) - y)).toBeLessThan(0.01);
  });

  it('never falls, goes through its points, and is reached where it says', () => {
    const curve = new MonotoneCurve([0, 0, 0.02, 0.9, 0.91, 2].map((y, x) => ({ x, y })));
    for (let x = 0; x < 5; x += 0.01) expect(curve.at(x + 0.01)).toBeGreaterThanOrEqual(curve.at(x) - 1e-12);
    expect(curve.at(3)).toBe(0.9);
    expect(curve.at(curve.reaches(0.6)!)).toBeCloseTo(0.6, 9);
    expect(curve.reaches(2.1)).toBeUndefined();
  });
});
