import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { seed } from '../../../shared-protocol/arbitrary-message.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

interface Time {
  readonly trayC10: number;
  readonly resinCoatedSeconds: number;
  readonly fibreSeconds: number;
}

const sheet: readonly Time[] = [
  { trayC10: 180, resinCoatedSeconds: 120, fibreSeconds: 240 },
  { trayC10: 200, resinCoatedSeconds: 90, fibreSeconds: 180 },
  { trayC10: 240, resinCoatedSeconds: 60, fibreSeconds: 100 },
];

/** At the baths, the developer having these times by temperature. */
function atBaths(
  times: readonly Time[] = sheet,
  settings: Record<string, number> = {},
  board = new SimulatedBoard(),
): EveningBench {
  const bench = new EveningBench(board);
  bench.greet();
  times.forEach((time, at) => {
    const point = { point: at + 1, points: times.length, label: 'developer', ...time };
    expect(bench.ask({ type: 'point-set', id: 0, ...point })).toMatchObject([{ type: 'ok' }]);
  });
  for (const [name, value] of Object.entries(settings))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
  bench.tap();
  return bench;
}

function toTemperature(bench: EveningBench): void {
  bench.pushTo('Knob: temperature');
  expect(bench.panel[3]).toBe('Knob: temperature');
}

const seconds = (row: string) => {
  const [, minutes, rest] = /(\d+):(\d\d)/.exec(row)!;
  return Number(minutes) * 60 + Number(rest);
};

describe('development by temperature', () => {
  it('takes the times of the row until the tray has a temperature', () => {
    const bench = atBaths();
    expect(bench.panel.slice(1)).toEqual(['1:30', 'developer', 'Bath 1/4, 1 sheet']);
    toTemperature(bench);
    expect(bench.panel[1]).toBe('Not measured');
  });

  // Half-way between 20 and 24 C, in the logarithm: the geometric mean, sqrt(90 x 60) = 73.5 s, by definition.
  it('is by the row again when the knob is turned far below the coldest tray', () => {
    const bench = atBaths();
    toTemperature(bench);
    bench.turn(1);
    for (let turns = 0; turns < 2; turns++) {
      bench.seconds(1);
      bench.turn(-24);
    }
    expect(bench.panel[1]).toBe('Not measured');
  });

  it('reckons between two temperatures in the logarithm of time, by half degrees of the knob', () => {
    const bench = atBaths();
    toTemperature(bench);
    bench.turn(1);
    expect(bench.panel[1]).toBe('20.0 C: 1:30');
    bench.turn(4);
    expect(bench.panel.slice(1)).toEqual(['22.0 C: 1:13', 'developer', 'Knob: temperature']);
    bench.turn(1);
    expect(bench.panel[1]).toMatch(/^22\.5 C: /);
    bench.turn(-1);
    bench.hold();
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['1:13 at 22.0 C', 'developer', 'Bath 1/4, 1 sheet']);
    bench.tap();
    bench.seconds(74);
    expect(bench.panel[2]).toBe('stop');
    expect(entries(bench, 'development')).toMatchObject([
      { bath: 1, trayC10: 220, firstToneMs: 0, factor: 0, plannedMs: 73_000 },
    ]);
    expect(entries(bench, 'bath-used')).toMatchObject([{ plannedMs: 73_000, givenMs: 73_000 }]);
  });

  it('is the exact exponential to half a second, for any data sheet, temperature and paper', () => {
    const anyTime = fc.integer({ min: 11, max: 3600 });
    fc.assert(
      fc.property(
        ...[
          fc.tuple(anyTime, anyTime, anyTime),
          fc.uniqueArray(fc.integer({ min: 50, max: 450 }), { minLength: 3, maxLength: 3 }),
        ],
        ...[fc.double({ min: 0, max: 1, noNaN: true }), fc.boolean()],
        (times, degrees, part, isFibre) => {
          const sorted = [...degrees].sort((one, other) => one - other);
          const row = sorted.map((trayC10, at) => ({
            ...{ trayC10, resinCoatedSeconds: times[at]!, fibreSeconds: times[(at + 1) % 3]! },
          }));
          const c10 = Math.round(sorted[0]! + part * (sorted[2]! - sorted[0]!));
          const bench = atBaths(row, { 'tray-c10': c10, 'fibre-paper': isFibre ? 1 : 0 });
          const from = c10 <= sorted[1]! ? 0 : 1;
          const of = (at: number) => (isFibre ? row[at]!.fibreSeconds : row[at]!.resinCoatedSeconds);
          const share = (c10 - sorted[from]!) / (sorted[from + 1]! - sorted[from]!);
          // The logarithm of time is linear in temperature, by definition of the rule (common practice, no source).
          const exact = of(from) * (of(from + 1) / of(from)) ** share;
          expect(Math.abs(seconds(bench.panel[1]!) - exact)).toBeLessThanOrEqual(0.5 + 1e-6);
        },
      ),
      { seed, numRuns: 150 },
    );
  });

  // Found by trying many: times that are so near a half second that a digit of the exponent tells which second is next.
  it.each([
    { from: 1602, to: 202, part: 3, width: 43 },
    { from: 514, to: 29_491, part: 15, width: 16 },
    { from: 2129, to: 32_288, part: 11, width: 16 },
    { from: 23_222, to: 1279, part: 29, width: 256 },
    { from: 33_870, to: 1323, part: 89, width: 256 },
  ])('is the next whole second by whole numbers, $part of $width on the way from $from s to $to s', (way) => {
    const { from, to, part, width } = way;
    const ends = [
      { trayC10: 50, resinCoatedSeconds: from, fibreSeconds: from },
      { trayC10: 50 + width, resinCoatedSeconds: to, fibreSeconds: to },
    ];
    const shown = BigInt(seconds(atBaths(ends, { 'tray-c10': 50 + part }).panel[1]!));
    // The time to the power of the width, so many times two: nothing is rounded.
    const exact = BigInt(from) ** BigInt(width - part) * BigInt(to) ** BigInt(part) * 2n ** BigInt(width);
    expect((2n * shown - 1n) ** BigInt(width) <= exact).toBe(true);
    expect(exact < (2n * shown + 1n) ** BigInt(width)).toBe(true);
  });

  // A laptop that sorts its list may send a time again; which of the two counts must not hang on where the tray is.
  it.each([
    [199, '1:31'],
    [200, '1:30'],
    [201, '1:29'],
  ])('goes at %i tenths of a degree by the first of two times for 20 C', (trayC10, time) => {
    const bench = atBaths([...sheet, { trayC10: 200, resinCoatedSeconds: 50, fibreSeconds: 60 }], {
      'tray-c10': trayC10,
    });
    expect(bench.panel[1]).toBe(`${time} at ${(trayC10 / 10).toFixed(1)} C`);
  });

  it('has no time outside the data sheet: it says between which there is one, and a tap starts nothing', () => {
    const bench = atBaths(sheet, { 'tray-c10': 305 });
    expect(bench.panel).toEqual([
      ...['Hold: back to rest', '30.5 C: no time', 'developer', 'From 18.0 to 24.0 C'],
    ]);
    bench.tap();
    expect(bench.panel[0]).toBe('Hold: back to rest');
    for (let pushes = 0; pushes < 3; pushes++) bench.push();
    expect(bench.panel.slice(1)).toEqual(['30.5 C: no time', 'developer', 'From 18.0 to 24.0 C']);
    bench.turn(-13);
    expect(bench.panel.slice(1)).toEqual(['24.0 C: 1:00', 'developer', 'Knob: temperature']);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap next Hold back');
    expect(entries(bench, 'bath-used')).toEqual([]);
  });

  it('is not measured below the coldest that a tray is', () => {
    const bench = atBaths(sheet, { 'tray-c10': 60 });
    for (let pushes = 0; pushes < 3; pushes++) bench.push();
    bench.turn(-2);
    expect(bench.panel[1]).toBe('5.0 C: no time');
    bench.turn(-1);
    expect(bench.panel.slice(1)).toEqual(['Not measured', 'developer', 'Knob: temperature']);
  });

  it('is not measured still when the knob is turned down from there', () => {
    const bench = atBaths();
    toTemperature(bench);
    const before = bench.panel;
    for (const clicks of [-1, -9]) {
      bench.turn(clicks);
      bench.seconds(1);
      expect(bench.panel).toEqual(before);
    }
    expect(bench.panel[1]).toBe('Not measured');
    bench.hold();
    bench.seconds(2);
    expect(bench.ask({ type: 'get-setting', id: 0, name: 'tray-c10' })).toMatchObject([{ value: 0 }]);
  });

  it('is there for the bath of that name alone, and stays over power-off with the temperature', () => {
    const board = new SimulatedBoard();
    const bench = atBaths(sheet, { 'tray-c10': 220 }, board);
    bench.tap();
    bench.seconds(74);
    expect(bench.panel.slice(1, 3)).toEqual(['0:20', 'stop']);
    for (let pushes = 0; pushes < 4; pushes++) {
      bench.push();
      expect(bench.panel[3]).not.toBe('Knob: temperature');
    }
    bench.hold();
    bench.seconds(2);
    board.cutPower();
    board.restorePower();
    const later = new EveningBench(board);
    later.greet();
    expect(later.ask({ type: 'point-get', id: 0, point: 3 })).toMatchObject([
      { type: 'bath-point', point: 3, points: 3, label: 'developer', trayC10: 240, fibreSeconds: 100 },
    ]);
    later.ask({ type: 'choose', id: 0, job: 'process', name: '' });
    later.tap();
    expect(later.panel[1]).toBe('1:13 at 22.0 C');
  });

  it('goes by the row for paper that the data sheet has no times for', () => {
    const times = sheet.map((time) => ({ ...time, fibreSeconds: 0 }));
    const bench = atBaths(times, { 'tray-c10': 220, 'fibre-paper': 1 });
    expect(bench.panel[1]).toBe('2:30');
  });
});

// The time to the first tone times a factor: common practice, no source.
describe('development by the first tone', () => {
  it('waits for a tap when it shows, and the time in all is so many times what has gone by', () => {
    const bench = atBaths([], { 'first-tone-factor': 5 });
    bench.tap();
    bench.seconds(2);
    expect(bench.panel[0]).toBe('Tap at first tone');
    bench.seconds(12);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap next Hold back');
    bench.seconds(70);
    expect(bench.panel[2]).toBe('stop');
    const [made] = entries(bench, 'development');
    expect(made).toMatchObject({ bath: 1, trayC10: 0, factor: 5 });
    const { firstToneMs, plannedMs } = made as { firstToneMs: number; plannedMs: number };
    expect(Math.abs(firstToneMs - 14_200)).toBeLessThan(300);
    expect(Math.abs(plannedMs - 5 * firstToneMs)).toBeLessThanOrEqual(500);
    expect(entries(bench, 'bath-used')).toMatchObject([{ plannedMs, givenMs: plannedMs }]);
  });

  it('tells a watching laptop how long it will be now', () => {
    const bench = atBaths([], { 'first-tone-factor': 8 });
    bench.ask({ type: 'watch', id: 0, on: true });
    bench.tap();
    bench.seconds(10);
    bench.tap();
    bench.ask({ type: 'ping', id: 0 });
    const told = bench.notices.filter((line) => line.type === 'moved' && line.state === 'timing');
    expect(told).toHaveLength(2);
    expect(Math.abs((told[1] as { remainingMs: number }).remainingMs - 71_000)).toBeLessThan(1500);
  });

  it('ends at the time of the row when no first tone was told', () => {
    const bench = atBaths([], { 'first-tone-factor': 4 });
    bench.tap();
    bench.seconds(91);
    expect(bench.panel[2]).toBe('stop');
    expect(entries(bench, 'development')).toEqual([]);
  });

  it('is never over at once: a tone in the first moment still leaves its factor, and time to drain', () => {
    const bench = atBaths([], { 'first-tone-factor': 4 });
    bench.tap();
    bench.seconds(2);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap next Hold back');
    bench.seconds(1);
    expect(bench.panel[1]).toMatch(/^0:0[4-7] lift, drain$/);
    bench.seconds(8);
    expect(bench.panel[2]).toBe('stop');
  });

  it('does not take a foot that starts the bath twice for the tone', () => {
    const bench = atBaths([], { 'first-tone-factor': 4 });
    bench.tap();
    expect(bench.panel[0]).toBe('Hold: back to rest');
    bench.tap();
    bench.tap();
    expect(bench.panel.slice(0, 3)).toEqual(['Hold: back to rest', '1:20', 'developer']);
    bench.seconds(2);
    expect(bench.panel[0]).toBe('Tap at first tone');
  });

  it('does not take a tap in the first two seconds for the tone, as README says', () => {
    const bench = atBaths([], { 'first-tone-factor': 4 });
    bench.tap();
    bench.seconds(1.5);
    bench.tap();
    expect(bench.panel[0]).toBe('Hold: back to rest');
    bench.seconds(1);
    expect(bench.panel[0]).toBe('Tap at first tone');
    bench.seconds(60);
    expect(bench.panel[2]).toBe('developer');
  });

  it('is asked for by the knob at the first bath, from 4 to 8 or not at all', () => {
    const bench = atBaths([]);
    for (let pushes = 0; pushes < 5; pushes++) bench.push();
    expect(bench.panel.slice(1)).toEqual(['By the clock', 'developer', 'Knob: by first tone']);
    bench.turn(1);
    expect(bench.panel[1]).toBe('4 x first tone');
    bench.turn(9);
    expect(bench.panel[1]).toBe('8 x first tone');
    bench.turn(-5);
    expect(bench.panel[1]).toBe('By the clock');
    bench.turn(2);
    bench.hold();
    bench.seconds(2);
    expect(bench.ask({ type: 'get-setting', id: 0, name: 'first-tone-factor' })).toMatchObject([
      { value: 5 },
    ]);
  });

  it('is for the first bath alone', () => {
    const bench = atBaths([], { 'first-tone-factor': 5 });
    bench.tap();
    bench.seconds(91);
    bench.tap();
    expect(bench.panel.slice(0, 3)).toEqual(['Tap next Hold back', '0:15', 'stop']);
  });
});
