import { describe, expect, it } from 'vitest';
import { Paper } from '../../../../host/darkroom/paper/paper.js';
import { ToneCurve } from '../../../../host/darkroom/reading/by-negative/tone-curve.js';

const RANGES = [60, 90, 140];

describe('the smooth curve through the tones of a picture', () => {
  // Rounded bends reach further: ranges came out some 4 % too long.
  it.each(RANGES)('keeps the bends of a paper of ISO R %i', (rangeR) => {
    const filters = { '': { speedP: 200, rangeR } };
    const paper = new Paper({ name: 'made up', baseDensity: 0.05, maximumDensity: 2.1, filters });
    const logs = Array.from({ length: 161 }, (_, at) => -0.5 + at / 50);
    const netAt = (log: number) => paper.densityAt('', log) - 0.05;
    const curve = new ToneCurve(logs.map((log) => ({ log, density: netAt(log), weight: 1 })));
    const fine = Array.from({ length: 3200 }, (_, at) => -0.5 + at / 1000);
    const spanOf = (densityAt: (log: number) => number) =>
      fine.find((log) => densityAt(log) > 0.9 * 2.05)! - fine.find((log) => densityAt(log) > 0.04)!;
    const ratio = spanOf((log) => curve.at(log)) / spanOf(netAt);
    expect(Math.abs(ratio - 1)).toBeLessThan(0.02);
  });
});
