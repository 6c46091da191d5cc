import { describe, expect, it } from 'vitest';
import { Paper } from '../../../../host/darkroom/paper/paper.js';
import { canBeOneStrip } from '../../../../host/darkroom/profile/wet-and-dry.js';
import { noiseOf, readStrip } from '../../../../host/darkroom/reading/read-strip.js';
import { Random } from '../../../setup/random.js';
import { madeStrip } from '../reading/made-strip.js';
import { scanOf } from '../reading/reading-trials.js';
import { drawnScanner } from '../reading/scanner-model.js';

const dosesMs = [0, 1, 2, 3, 4, 5].map((at) => Math.round(5000 * 2 ** (at / 2)));
const filters = { '00': { speedP: 200, rangeR: 160 }, '2': { speedP: 200, rangeR: 105 } };
const paper = new Paper({ name: 'made up', baseDensity: 0.05, maximumDensity: 2.1, filters });

/** Two strips by one device, the second as wet: of so much less light. */
function pairOf(trial: number, device: 'flatbed' | 'phone', wetFilter: '00' | '2') {
  const scanner = drawnScanner(new Random(500 + trial), device);
  const read = (filter: '00' | '2', stops: number, at: number) => {
    const made = madeStrip(new Random(100 * at + trial), {
      ...{ device, dosesMs, scanner },
      of: { paper, filter, lux: 0.5 * 2 ** -stops },
    });
    const { patches } = readStrip(scanOf(made, device), { dosesMs, tone: 0.6, device });
    return patches.map((patch) => ({ doseMs: patch.doseMs, density: patch.density, noise: noiseOf(patch) }));
  };
  return [read('2', 0, 7), read(wetFilter, 0.15, 8)] as const;
}

describe('the scans of a strip dry and wet', () => {
  const trials = Array.from({ length: 8 }, (_, at) => at);

  it.each(['flatbed', 'phone'] as const)('are known as one strip, by %s', (device) => {
    expect(trials.filter((trial) => !canBeOneStrip(...pairOf(trial, device, '2')))).toEqual([]);
  });

  it.each(['flatbed', 'phone'] as const)('are told from a strip through another filter, by %s', (device) => {
    expect(trials.filter((trial) => canBeOneStrip(...pairOf(trial, device, '00')))).toEqual([]);
  });
});
