import { describe, expect, it } from 'vitest';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

/** A fresh board, nothing uploaded; all the way to the left stands the plain exposure. */
function rest(): EveningBench {
  const bench = new EveningBench();
  bench.focusAndStopDown();
  bench.seconds(1);
  bench.turn(-9);
  bench.turn(1);
  return bench;
}

function ready(): EveningBench {
  const bench = rest();
  bench.tap();
  return bench;
}

/** Detents one after another, so many milliseconds apart, after a rest. */
function turnBy(bench: EveningBench, detents: number, apartMs: number): void {
  bench.seconds(1);
  for (let detent = 0; detent < Math.abs(detents); detent++) {
    if (detent > 0) bench.board.advanceUs(apartMs * 1000);
    bench.turn(Math.sign(detents));
  }
}
const slowly = (bench: EveningBench, detents: number) => turnBy(bench, detents, 200);

describe('a plain exposure', () => {
  it('gives 10.00 s on a fresh board, as often as the foot asks', () => {
    const bench = rest();
    expect(bench.panel).toEqual([
      ...['Tap sheet Hold focus', '10.00 s', 'Plain exposure', 'Push knob: a strip'],
    ]);
    for (let sheet = 1; sheet <= 2; sheet++) {
      bench.tap();
      expect(bench.panel).toEqual([
        ...['Tap start Hold back', '10.00 s', 'Plain exposure', 'Knob: time or filter'],
      ]);
      bench.tap();
      expect(bench.panel[2]).toBe('Plain exposure');
      bench.seconds(11);
      expect(bench.panel).toEqual([
        ...['Tap again Hold rest', '10.00 s in all', 'Hold knob: keep it', `Sheet ${sheet} done`],
      ]);
    }
    expect(bench.pulses.slice(1)).toEqual([10_000_000, 10_000_000]);
  });

  it('has the usual strip one push away, at rest and when it is done', () => {
    const bench = rest();
    bench.push();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap strip Hold focus', '2.00 s first', '6 patches, 1 st']);
    bench.turn(-9);
    bench.turn(1);
    bench.tap();
    bench.tap();
    bench.seconds(11);
    bench.push();
    expect(bench.panel[0]).toBe('Tap strip Hold focus');
  });

  it('is logged as a sheet with its light, and counted as a print', () => {
    const bench = ready();
    bench.push();
    bench.push();
    bench.push();
    bench.turn(5);
    expect(bench.panel.slice(1)).toEqual(['10.00 s     filter 2', 'Plain exposure', 'Knob: filter']);
    bench.answer();
    bench.tap();
    bench.seconds(11);
    bench.greet();
    expect(entries(bench, 'sheet')).toMatchObject([{ sheet: 1, job: 'plain', recipe: '', baseMs: 10_000 }]);
    expect(entries(bench, 'exposure').at(-1)).toMatchObject({
      ...{ kind: 'plain', recipe: '', filter: '2', sheet: 1, plannedMs: 10_000, doseMs: 10_000 },
      ...{ outcome: 'complete', pass: 0, patch: 0 },
    });
    expect(entries(bench, 'sheet-ended')).toMatchObject([{ outcome: 'complete', prints: 1, strips: 0 }]);
  });

  it('goes through time in seconds, time in stops and filter, and shows the filter at each', () => {
    const bench = ready();
    const seen = Array.from({ length: 4 }, () => {
      bench.push();
      if (bench.panel[3] === 'Knob: filter') bench.turn(1);
      return bench.panel.slice(1);
    });
    expect(seen).toEqual([
      ['10.00 s', 'Plain exposure', 'Knob: time, seconds'],
      ['10.00 s', 'Plain exposure', 'Knob: time in stops'],
      ['10.00 s    filter 00', 'Plain exposure', 'Knob: filter'],
      ['10.00 s    filter 00', 'Plain exposure', 'Knob: time, seconds'],
    ]);
  });

  it('paused, gives the rest', () => {
    const bench = ready();
    bench.tap();
    bench.seconds(3);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap go on Hold end');
    bench.tap();
    bench.seconds(11);
    expect(bench.panel[0]).toBe('Tap again Hold rest');
    const [, first, second] = bench.pulses;
    expect(first! + second!).toBe(10_000_000);
  });

  it('shorter than a lamp can be depended on for is not offered, however quickly the knob is turned', () => {
    const bench = rest();
    bench.greet();
    bench.ask({ type: 'set-setting', id: 0, name: 'lamp-lag-ms', value: -500 });
    bench.tap();
    for (let turns = 0; turns < 60; turns++) bench.turn(-1);
    const shortest = bench.panel[1];
    slowly(bench, -1);
    expect(bench.panel[1]).toBe(shortest);
    bench.tap();
    bench.seconds(2);
    expect(bench.panel[0]).toBe('Tap again Hold rest');
  });
});

describe('a time on the knob', () => {
  it('in seconds stops at round ones, from wherever it was', () => {
    const bench = ready();
    bench.push();
    bench.push();
    slowly(bench, 1);
    expect(bench.panel[1]).toBe('10.60 s'); // 10 x 2^(1/12), by definition
    bench.push();
    bench.push();
    const seen = [-1, -1, -1, 1, 1].map((detents) => {
      slowly(bench, detents);
      return bench.panel[1];
    });
    expect(seen).toEqual(['10.50 s', '10.00 s', '9.50 s', '10.00 s', '10.50 s']);
  });

  it('in stops reaches 10.08 s from 2 s, and in seconds 10.00 s', () => {
    const bench = ready();
    bench.push();
    slowly(bench, -24);
    expect(bench.panel[1]).toBe('2.00 s');
    bench.push();
    slowly(bench, 28);
    expect(bench.panel[1]).toBe('10.08 s'); // 2 x 2^(28/12), by definition
    bench.push();
    bench.push();
    slowly(bench, -1);
    expect(bench.panel[1]).toBe('10.00 s');
  });

  it.each([
    ['seconds', 1, 5],
    ['stops', 2, 6],
  ])('is turned quickly from 2 s to 10 s in a handful of detents, in %s', (_, pushes, most) => {
    const bench = ready();
    bench.push();
    slowly(bench, -24);
    for (let push = 1; push < pushes; push++) bench.push();
    bench.seconds(1);
    let detents = 0;
    for (; Number.parseFloat(bench.panel[1]!) < 10; detents++) {
      bench.board.advanceUs(40_000);
      bench.turn(1);
    }
    expect(detents).toBeLessThanOrEqual(most);
    expect(Number.parseFloat(bench.panel[1]!)).toBeLessThan(12);
  });

  it('turned quickly and back, the first detent back is a single click', () => {
    const bench = ready();
    bench.push();
    turnBy(bench, 3, 40);
    expect(bench.panel[1]).toBe('16.50 s'); // 13 half seconds
    bench.turn(-1);
    expect(bench.panel[1]).toBe('16.00 s');
  });

  it('goes up to an hour in seconds and no further, and down to a tenth', () => {
    const bench = ready();
    for (let turns = 0; turns < 40; turns++) bench.turn(24);
    expect(bench.panel[1]).toBe('3600 s');
    for (let turns = 0; turns < 40; turns++) bench.turn(-24);
    expect(bench.panel[1]).toBe('0.10 s');
  });
});
