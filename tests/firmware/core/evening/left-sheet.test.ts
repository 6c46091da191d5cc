import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

function evening(): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  bench.print(boathouse);
  bench.focusAndStopDown();
  bench.seconds(1);
  return bench;
}

function giveRest(bench: EveningBench): void {
  for (let taps = 0; taps < 24 && !bench.panel[0]!.startsWith('Tap again'); taps++) {
    bench.answer();
    bench.tap();
    bench.seconds(40);
  }
}

function begun(): EveningBench {
  const bench = evening();
  bench.tap();
  bench.answer();
  return bench;
}

function light(bench: EveningBench, seconds: number): void {
  bench.answer();
  bench.tap();
  bench.seconds(seconds);
}

const lights = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (entry.type === 'exposure' && entry.kind !== 'focus' ? [entry] : []));
const total = (bench: EveningBench, pass: number) =>
  lights(bench).reduce((sum, entry) => sum + (entry.pass === pass ? entry.doseMs : 0), 0);

describe('a sheet that a stray foot left', () => {
  it('in the middle of a light is gone on with by a tap, and has all its light in the end', () => {
    const bench = begun();
    bench.tap();
    bench.seconds(1);
    bench.hold();
    expect(bench.panel).toEqual([
      ...['Tap go on Hold focus', 'Sheet 1 goes on', 'rest of pass 1/3', 'Turn: another sheet'],
    ]);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap start Hold back');
    expect(bench.panel.slice(2)).toEqual(['jetty', 'Dodge 1/2 pass 1/3']);
    giveRest(bench);
    expect([1, 2, 3].map((pass) => total(bench, pass))).toEqual([12_000, 12_000, 4971]);
    expect(lights(bench)[0]).toMatchObject({ outcome: 'stopped', sheet: 1 });
    expect(lights(bench)[1]).toMatchObject({ outcome: 'complete', sheet: 1, pass: 1 });
    expect(entries(bench, 'sheet')).toHaveLength(1);
    expect(entries(bench, 'sheet-ended')).toMatchObject([
      { sheet: 1, outcome: 'stopped', prints: 0, wasted: 1 },
      { sheet: 1, outcome: 'complete', prints: 1, wasted: 0 },
    ]);
    expect(entries(bench, 'sheet-resumed')).toMatchObject([{ sheet: 1, prints: 0, wasted: 0 }]);
  });

  it('between two passes is gone on with from there, with the hand and the filter said again', () => {
    const bench = begun();
    for (const seconds of [3, 4, 7]) light(bench, seconds);
    expect(bench.panel[3]).toBe('Pass 2: sky');
    bench.hold();
    expect(bench.panel.slice(1)).toEqual(['Sheet 1 goes on', 'with pass 2/3', 'Turn: another sheet']);
    bench.push();
    expect(bench.panel).toEqual(['Filter in? Tap', 'Put in 00', 'Take out 2 1/2', 'Pass 2: sky']);
    giveRest(bench);
    expect(bench.pulses.slice(1)).toEqual([2_476_000, 3_515_000, 6_009_000, 12_000_000, 4_971_000]);
  });

  it('is gone on with after the knob has been everywhere, and another recipe was in use', () => {
    const bench = begun();
    light(bench, 3);
    bench.hold();
    bench.turn(1);
    expect(bench.panel[0]).toBe('Tap print Hold focus');
    bench.print({ ...boathouse, name: 'jetty-by-night', baseMs: 20_000 });
    bench.turn(9);
    for (let clicks = 0; clicks < 9; clicks++) bench.turn(-9);
    expect(bench.panel.slice(0, 2)).toEqual(['Tap go on Hold focus', 'Sheet 1 goes on']);
    bench.tap();
    expect(bench.panel.slice(2)).toEqual(['facade', 'Dodge 2/2 pass 1/3']);
    giveRest(bench);
    expect(total(bench, 1)).toBe(12_000);
    expect(lights(bench).every(({ recipe }) => recipe === 'boathouse')).toBe(true);
  });

  it('cannot be gone on with once another was begun', () => {
    const bench = begun();
    light(bench, 3);
    bench.hold();
    bench.turn(1);
    bench.tap();
    light(bench, 3);
    giveRest(bench);
    bench.hold();
    for (let clicks = 0; clicks < 9; clicks++) bench.turn(-9);
    expect(bench.panel[0]).not.toContain('go on');
    expect(entries(bench, 'sheet-ended')).toMatchObject([
      { sheet: 1, wasted: 1, prints: 0 },
      { sheet: 2, wasted: 1, prints: 1 },
    ]);
  });

  it('is a strip as well: the next patch is the one that was next', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    bench.tap();
    light(bench, 3);
    bench.hold();
    expect(bench.panel.slice(1, 3)).toEqual(['Sheet 1 goes on', 'with patch 2/6']);
    bench.tap();
    expect(bench.panel.slice(2)).toEqual(['Cover one more patch', 'Patch 2/6 4.00 s']);
    giveRest(bench);
    bench.push();
    expect(bench.panel[0]).toBe('Tap accept Hold rest');
  });

  it('goes on with a rest in the middle of which nothing can be turned', () => {
    const bench = begun();
    bench.tap();
    bench.seconds(1);
    bench.hold();
    bench.tap();
    const rest = bench.panel;
    bench.turn(3);
    bench.push();
    expect(bench.panel).toEqual(rest);
  });
});

describe('a sheet that never saw light', () => {
  it('is none: the next one has its number, and the log says so', () => {
    const bench = begun();
    bench.hold();
    expect(bench.panel[0]).toBe('Tap print Hold focus');
    bench.tap();
    giveRest(bench);
    expect(bench.panel[3]).toBe('Sheet 1 done');
    expect(entries(bench, 'sheet-unused')).toMatchObject([{ sheet: 1 }]);
    expect(entries(bench, 'sheet-ended')).toMatchObject([{ sheet: 1, prints: 1, wasted: 0 }]);
  });
});
