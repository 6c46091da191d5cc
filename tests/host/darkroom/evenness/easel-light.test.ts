import { describe, expect, it } from 'vitest';
import { easelLightStops, riseOfSlopeMm } from '../../../../host/darkroom/light/easel-light.js';

describe('light on an easel', () => {
  // Herbert E. Ives, Airplane Photography (1920), 'Illumination': brightness against the angle from the axis, per cent.
  it.each([
    [10, 94.1],
    [20, 78.0],
    [30, 56.2],
    [40, 34.4],
    [50, 17.1],
  ])('falls off by the fourth power of the cosine: at %d degrees %d per cent', (degrees, percent) => {
    const level = { lensHeightMm: 300, riseAcross: 0, riseDown: 0 };
    const offAxisMm = 300 * Math.tan((degrees / 180) * Math.PI);
    const share = (stops: number) => 100 * 2 ** stops;
    expect(Math.abs(share(easelLightStops(level, offAxisMm, 0)) - percent)).toBeLessThan(0.1);
    expect(Math.abs(share(easelLightStops(level, 0.6 * offAxisMm, 0.8 * offAxisMm)) - percent)).toBeLessThan(
      0.1,
    );
  });

  it('is more where the paper lies nearer to the lens, by three times its rise, and the rise comes back', () => {
    const tilted = { lensHeightMm: 400, riseAcross: 0.02, riseDown: 0 };
    const slope = (easelLightStops(tilted, 10, 0) - easelLightStops(tilted, -10, 0)) / 2;
    expect(2 ** slope - 1).toBeCloseTo((3 * 0.2) / 400, 4);
    expect(riseOfSlopeMm(slope, 400)).toBeCloseTo(0.02 * 20, 2);
  });
});
