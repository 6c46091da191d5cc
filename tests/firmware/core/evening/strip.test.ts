import { describe, expect, it } from 'vitest';
import { EveningBench } from './evening-bench.js';

function halfStops(bench: EveningBench, cover: 'cumulative' | 'separate', filter = ''): void {
  bench.greet();
  bench.focusAndStopDown();
  bench.ask({
    type: 'strip-set',
    id: 0,
    firstMs: 5000,
    stepStops120: 60,
    stepMs: 0,
    patches: 5,
    cover,
    filter,
  });
  bench.tap();
}

function giveAll(bench: EveningBench, patches: number): void {
  for (let patch = 0; patch < patches; patch++) {
    bench.tap();
    bench.seconds(30);
  }
}

describe('a test strip', () => {
  // Half stops from 5 s: 5 x 2^(n/2), by definition of the stop.
  it('covered step by step gets 5.000, 2.071, 2.929, 4.142 and 5.858 s of light', () => {
    const bench = new EveningBench();
    halfStops(bench, 'cumulative');
    giveAll(bench, 5);
    expect(bench.pulses.slice(1)).toEqual([5_000_000, 2_071_000, 2_929_000, 4_142_000, 5_858_000]);
  });

  it('with each patch by itself gets the totals', () => {
    const bench = new EveningBench();
    halfStops(bench, 'separate');
    giveAll(bench, 5);
    expect(bench.pulses.slice(1)).toEqual([5_000_000, 7_071_000, 10_000_000, 14_142_000, 20_000_000]);
  });

  it('is logged as a sheet and an entry for each patch', () => {
    const bench = new EveningBench();
    halfStops(bench, 'cumulative');
    giveAll(bench, 5);
    const log = bench.log();
    expect(log.filter((entry) => entry.type === 'sheet')).toMatchObject([
      { sheet: 1, job: 'strip', baseMs: 5000, stepStops120: 60, patches: 5, cover: 'cumulative' },
    ]);
    const patches = log.filter((entry) => entry.type === 'exposure' && entry.kind === 'strip');
    expect(patches).toMatchObject(
      [5000, 2071, 2929, 4142, 5858].map((doseMs, index) => ({
        patch: index + 1,
        sheet: 1,
        plannedMs: doseMs,
        onMs: doseMs,
        doseMs,
        outcome: 'complete',
        pauses: 0,
      })),
    );
  });

  it('says which patch is next, what to do with the card, and its total', () => {
    const bench = new EveningBench();
    halfStops(bench, 'cumulative');
    expect(bench.panel).toEqual(['Tap start Hold back', '5.00 s', 'Uncover whole strip', 'Patch 1/5 5.00 s']);
    giveAll(bench, 1);
    expect(bench.panel).toEqual([
      'Tap start Hold back',
      '2.07 s',
      'Cover one more patch',
      'Patch 2/5 7.07 s',
    ]);
  });

  it('through a filter says it before, at each patch and in the log, and the base that it finds has it', () => {
    const bench = new EveningBench();
    halfStops(bench, 'cumulative', '3 1/2');
    expect(bench.panel).toEqual(['Filter in? Tap', 'Put in 3 1/2', '', 'Patch 1: test strip']);
    bench.answer();
    expect(bench.panel.slice(1, 3)).toEqual(['5.00 s  filter 3 1/2', 'Uncover whole strip']);
    giveAll(bench, 5);
    bench.turn(1);
    bench.tap();
    // Seven patches by tenths about 10 s: the first at 10 x 2^(-0.3), by definition of the stop.
    expect(bench.panel.slice(0, 2)).toEqual(['Tap strip Hold focus', '8.12 s  filter 3 1/2']);
    bench.turn(1);
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['10.00 s filter 3 1/2', 'whole sheet', 'Base, pass 1/1']);
    const filters = bench.log().flatMap((entry) => (entry.type === 'exposure' ? [entry.filter] : []));
    expect(filters).toEqual(['', ...Array.from({ length: 5 }, () => '3 1/2')]);
  });

  it('cannot be changed by the laptop while it is being given', () => {
    const bench = new EveningBench();
    halfStops(bench, 'cumulative');
    const set = {
      type: 'strip-set',
      id: 0,
      firstMs: 1000,
      stepStops120: 60,
      stepMs: 0,
      patches: 3,
      filter: '',
    } as const;
    expect(bench.ask({ ...set, cover: 'separate' })).toMatchObject([{ type: 'error', code: 'not-allowed' }]);
    giveAll(bench, 5);
    expect(bench.panel[1]).toBe('20.00 s in all');
  });
});
