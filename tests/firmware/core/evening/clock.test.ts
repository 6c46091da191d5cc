import { describe, expect, it } from 'vitest';
import { Random } from '../../../setup/random.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';

const DAY_MS = 86_400_000;
const FIRST_MS = Date.UTC(2020, 0, 1);
const DAYS = (Date.UTC(2100, 0, 1) - FIRST_MS) / DAY_MS;

/** All the way to the left stands the clock. */
function atTheClock(bench = new EveningBench()): EveningBench {
  bench.turn(-9);
  bench.seconds(0.5);
  return bench;
}

/** Figure by figure as a person does it, from '2027-03-05 21:40', with whatever follows it on the knob left as it is. */
function setTo(bench: EveningBench, text: string): void {
  bench.tap();
  for (const length of [4, 7, 10, 13, 16]) {
    for (let clicks = 0; clicks < 100 && !bench.panel[1]!.startsWith(text.slice(0, length)); clicks++) {
      bench.turn(1);
      bench.board.advanceUs(30_000);
    }
    expect(bench.panel[1]!.slice(0, length)).toBe(text.slice(0, length));
    bench.push();
  }
}

const textOf = (ms: number) => new Date(ms).toISOString().slice(0, 16).replace('T', ' ');
const marks = (bench: EveningBench) =>
  bench.log().flatMap((entry) => (entry.type === 'clock' ? [entry.epochMs] : []));

describe('the clock', () => {
  it('is said not to be set until somebody has, and asks nothing of the lens', () => {
    const bench = atTheClock();
    expect(bench.panel).toEqual(['Tap clock Hold focus', '', 'Date and time', 'are not set yet']);
    bench.tap();
    expect(bench.panel).toEqual(['Tap set Hold rest', '2027-01-01 20:00', 'UTC +0:00', 'Knob: year']);
    bench.hold();
    expect(bench.panel[3]).toBe('are not set yet');
    bench.greet();
    bench.ask({ type: 'set-clock', id: 0, epochMs: Date.UTC(2027, 2, 5, 21, 40) });
    expect(bench.panel[3]).toBe('are set');
  });

  it('set by the knob leaves the same mark in the log as a laptop does, at the moment of the tap', () => {
    const bench = atTheClock();
    setTo(bench, '2027-03-05 21:40');
    expect(bench.panel.slice(1)).toEqual(['2027-03-05 21:40', 'UTC +0:00', 'Knob: ahead of UTC']);
    bench.push();
    expect(bench.panel).toEqual(['Tap clock Hold focus', '', 'Date and time', 'are set']);
    bench.greet();
    expect(marks(bench)).toEqual([Date.UTC(2027, 2, 5, 21, 40)]);
    const [mark] = entries(bench, 'clock');
    const upMs = bench.board.nowUs / 1000;
    expect(mark!.uptimeMs).toBeGreaterThan(upMs - 2000);
  });

  it('is marked in the log with the time since power-up at which it was set', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.seconds(3000);
    const beforeMs = bench.board.nowUs / 1000;
    bench.ask({ type: 'set-clock', id: 0, epochMs: Date.UTC(2027, 2, 5, 21, 40) });
    const afterMs = bench.board.nowUs / 1000;
    const [mark] = entries(bench, 'clock');
    expect(mark!.uptimeMs).toBeGreaterThanOrEqual(Math.floor(beforeMs));
    expect(mark!.uptimeMs).toBeLessThanOrEqual(afterMs);
  });

  it('goes on from the time as it is, the next time', () => {
    const bench = atTheClock();
    bench.greet();
    bench.ask({ type: 'set-clock', id: 0, epochMs: Date.UTC(2028, 1, 28, 23, 50) });
    bench.seconds(660);
    bench.tap();
    expect(bench.panel[1]).toBe('2028-02-29 00:01');
  });

  // A laptop whose clock was never set: the knob has the years from 2020 to 2099 alone, of its own zone.
  it.each([
    ['2000-01-01 00:00', 0, false],
    ['2019-12-31 23:59', 0, false],
    ['2020-01-01 00:00', 0, true],
    ['2020-01-01 00:00', -60, false],
    ['2099-12-31 23:59', 0, true],
    ['2099-12-31 23:59', 60, false],
  ])('goes on from %s UTC, %i minutes ahead of it, where the knob can turn to that', (text, zone, isOne) => {
    const bench = atTheClock();
    bench.tap();
    const untold = bench.panel[1]!;
    bench.hold();
    bench.greet();
    bench.ask({ type: 'set-setting', id: 0, name: 'zone-minutes', value: zone });
    bench.ask({ type: 'set-clock', id: 0, epochMs: Date.parse(`${text.replace(' ', 'T')}Z`) });
    bench.tap();
    expect(bench.panel[1]).toBe(isOne ? text : untold);
  });

  it('takes the zone into account, which is kept', () => {
    const bench = atTheClock();
    setTo(bench, '2027-07-01 00:30');
    bench.turn(8);
    expect(bench.panel[2]).toBe('UTC +2:00');
    bench.tap();
    bench.seconds(2);
    bench.greet();
    expect(marks(bench)).toEqual([Date.UTC(2027, 5, 30, 22, 30)]);
    bench.tap();
    expect(bench.panel[1]).toBe('2027-07-01 00:30');
    bench.hold();
    bench.seconds(2);
    bench.board.cutPower();
    bench.board.restorePower();
    const after = new EveningBench(bench.board);
    atTheClock(after).tap();
    expect(after.panel.slice(1, 3)).toEqual(['2027-01-01 20:00', 'UTC +2:00']);
  });

  it.each([
    ['2028-02-01 12:00', 29],
    ['2027-02-01 12:00', 28],
    ['2032-02-01 12:00', 29],
    ['2099-04-01 12:00', 30],
    ['2027-12-01 12:00', 31],
  ])('in the month of %s goes round after %i days', (text, days) => {
    const bench = atTheClock();
    bench.greet();
    bench.ask({ type: 'set-clock', id: 0, epochMs: Date.parse(`${text.replace(' ', 'T')}Z`) });
    bench.tap();
    bench.push();
    bench.push();
    bench.turn(-1);
    expect(bench.panel[1]!.slice(8, 10)).toBe(`${days}`);
    bench.turn(1);
    expect(bench.panel[1]!.slice(8, 10)).toBe('01');
  });

  // Source: the calendar; the years are those of this board.
  it('has all years, months, hours and minutes, each once before it comes round', () => {
    const bench = atTheClock();
    bench.tap();
    const counts = [];
    for (let figure = 0; figure < 5; figure++) {
      const first = bench.panel[1]!;
      const seen = new Set<string>();
      do {
        seen.add(bench.panel[1]!);
        bench.turn(1);
        bench.seconds(0.2);
      } while (bench.panel[1] !== first && seen.size < 100);
      counts.push(seen.size);
      bench.push();
    }
    expect(counts).toEqual([80, 12, 31, 24, 60]);
  });

  it('has no 29th of February when the year has none', () => {
    const bench = atTheClock();
    bench.greet();
    bench.ask({ type: 'set-clock', id: 0, epochMs: Date.UTC(2028, 1, 29, 12) });
    bench.tap();
    bench.turn(1);
    expect(bench.panel[1]).toBe('2029-02-28 12:00');
  });

  it('goes from 2020 to 2099', () => {
    const bench = atTheClock();
    bench.tap();
    bench.turn(-7);
    expect(bench.panel[1]).toBe('2020-01-01 20:00');
    bench.turn(-1);
    expect(bench.panel[1]).toBe('2099-01-01 20:00');
  });

  // The calendar of the language itself, which is of another make.
  it('shows and takes every day of these years as it is, seed 5', () => {
    const random = new Random(5);
    const bench = atTheClock();
    bench.greet();
    for (let day = 0; day < DAYS; day += 1 + random.below(60)) {
      const epochMs = FIRST_MS + day * DAY_MS + random.below(1440) * 60_000;
      bench.ask({ type: 'set-clock', id: 0, epochMs });
      bench.tap();
      expect(bench.panel[1]).toBe(textOf(epochMs));
      bench.tap();
      bench.seconds(0.3);
    }
    const told = marks(bench);
    expect(told.length).toBeGreaterThan(800);
    for (let at = 0; at < told.length; at += 2) expect(told[at]).toBe(told[at + 1]);
  });
});
