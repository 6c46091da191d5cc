import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.focusAndStopDown();
  return bench;
}

/** Gives the strip that is chosen, all of it. */
function giveStrip(bench: EveningBench): void {
  bench.tap();
  for (let patch = 0; patch < 12 && bench.panel[0]!.startsWith('Tap start'); patch++) {
    bench.tap();
    bench.seconds(1100);
  }
}

describe('reading a strip', () => {
  it('turns from all too dark along the patches to all too light', () => {
    const bench = evening();
    giveStrip(bench);
    expect(bench.panel).toEqual([
      'Tap again Hold rest',
      '64.00 s in all',
      '6 patches, 1 st',
      'Sheet 1: turn knob',
    ]);
    bench.turn(1);
    bench.turn(-20);
    const seen = Array.from({ length: 13 }, () => {
      const shows = `${bench.panel[1]} ${bench.panel[2]}`;
      bench.turn(1);
      return shows;
    });
    // 2 s by whole stops; half a stop above each, by definition, to the millisecond and then to the hundredth.
    expect(seen).toEqual([
      ' All too dark',
      '2.00 s Patch 1/6',
      '2.83 s Between 1 and 2',
      '4.00 s Patch 2/6',
      '5.66 s Between 2 and 3',
      '8.00 s Patch 3/6',
      '11.31 s Between 3 and 4',
      '16.00 s Patch 4/6',
      '22.63 s Between 4 and 5',
      '32.00 s Patch 5/6',
      '45.26 s Between 5 and 6',
      '64.00 s Patch 6/6',
      ' All too light',
    ]);
    expect([bench.panel[0], bench.panel[3]]).toEqual(['Tap accept Hold rest', 'Knob: which is right']);
  });

  it('proposes tenths of a stop about the patch that was right, and keeps it as the base meanwhile', () => {
    const bench = evening();
    giveStrip(bench);
    bench.turn(1);
    bench.turn(1);
    bench.push();
    // 16 s x 2^(-5.5/10), by definition.
    expect(bench.panel).toEqual([
      'Tap strip Hold focus',
      '10.93 s first',
      '12 patches, 1/10 st',
      'for negative-1',
    ]);
    expect(entries(bench, 'strip-reading')).toMatchObject([
      { sheet: 1, verdict: 'patch', patch: 4, doseMs: 16_000 },
    ]);
    bench.turn(1);
    expect(bench.panel.slice(0, 3)).toEqual(['Tap print Hold focus', '16.00 s base', 'negative-1']);
  });

  it('takes the patch of a strip by tenths as the base of the recipe in use', () => {
    const bench = evening();
    bench.print(boathouse);
    bench.turn(-1);
    giveStrip(bench);
    bench.turn(1);
    bench.turn(1);
    bench.tap();
    giveStrip(bench);
    bench.turn(1);
    bench.turn(3);
    bench.tap();
    // From between 6 and 7, which is 16 s, two clicks a patch: patch 8 of 10.928 s by tenths, 16 s x 2^(1.5/10).
    expect(bench.panel).toEqual(['Tap print Hold focus', '17.75 s base', 'boathouse', 'Hold knob: keep it']);
    expect(entries(bench, 'strip-reading')).toMatchObject([
      { verdict: 'patch' },
      { verdict: 'patch', patch: 8 },
    ]);
  });

  it('asks about the lens after a strip that was all too dark, and goes on where that one began', () => {
    const bench = evening();
    giveStrip(bench);
    bench.turn(1);
    bench.turn(-20);
    bench.push();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap lens Hold focus', '0.10 s first', '6 patches, 1 st']);
    expect(entries(bench, 'strip-reading')).toMatchObject([{ verdict: 'too-dark', patch: 0, doseMs: 0 }]);
  });

  it('goes on with the longest time after a strip that was all too light', () => {
    const bench = evening();
    giveStrip(bench);
    bench.turn(1);
    bench.turn(20);
    bench.push();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap strip Hold focus', '64.00 s first', '6 patches, 1 st']);
  });

  it('says how far to close the lens for a base under 8 s, and converts base and strip when it is done', () => {
    const bench = evening();
    giveStrip(bench);
    bench.turn(1);
    bench.turn(-2);
    bench.push();
    // Between 2 and 3: 5.657 s; twice that is 11.314 s.
    expect(bench.panel).toEqual([
      'Tap done Hold rest',
      '5.66 s: short',
      'Stop down by 1 stop',
      'for 11.31 s',
    ]);
    bench.tap();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap strip Hold focus', '7.73 s first', '12 patches, 1/10 st']);
    expect(entries(bench, 'stopped-down')).toMatchObject([{ stops: 1, baseMs: 11_314 }]);
    bench.turn(1);
    expect(bench.panel[1]).toBe('11.31 s base');
  });

  it('can be left for the light and come back to', () => {
    const bench = evening();
    giveStrip(bench);
    bench.turn(1);
    bench.hold();
    expect(bench.panel[3]).toBe('Push knob: read it');
    bench.push();
    expect(bench.panel[0]).toBe('Tap accept Hold rest');
  });
});
