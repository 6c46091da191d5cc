import { describe, expect, it } from 'vitest';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { entries } from './entries.js';
import { EveningBench } from './evening-bench.js';
import { heardIn, heardSince } from './rhythm.js';

const MINUTE = 60;
const GREY_SECONDS = 3;

function evening(board = new SimulatedBoard()): EveningBench {
  const bench = new EveningBench(board);
  bench.greet();
  bench.ask({ type: 'set-setting', id: 0, name: 'metronome', value: 0 });
  bench.focusAndStopDown();
  bench.seconds(1);
  bench.turn(1);
  return bench;
}

function greyBefore(bench: EveningBench): void {
  bench.tap();
  bench.tap();
  bench.seconds(GREY_SECONDS);
}

function giveTest(bench: EveningBench): void {
  greyBefore(bench);
  bench.tap();
  bench.seconds(7 * MINUTE + 1);
  bench.tap();
  bench.seconds(GREY_SECONDS);
}

const safeMinutes = (bench: EveningBench) =>
  bench
    .ask({ type: 'get-setting', id: 0, name: 'safe-minutes' })
    .map((line) => 'value' in line && line.value);

// Totals of 1, 3 and 7 minutes on paper that had light before, and that gets it after; the worse half counts: a
// manufacturer's safelight test guide.
describe('the safelight test', () => {
  it('gives grey on one half, times the safelight on its bands, and gives grey on the other half', () => {
    const bench = evening();
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['2.00 s grey 1/2', 'Uncover left half', 'Safelight off']);
    bench.tap();
    bench.seconds(GREY_SECONDS);
    expect(bench.panel).toEqual([
      'Tap begin Hold back',
      '7:00 of safelight',
      'Cover band 1',
      'Tap: safelight on',
    ]);
    bench.tap();
    bench.seconds(7 * MINUTE + 1);
    expect(bench.panel.slice(1)).toEqual(['2.00 s grey 2/2', 'Uncover right half', 'Safelight off']);
    bench.tap();
    bench.seconds(GREY_SECONDS);
    expect(bench.panel.slice(2)).toEqual(['Develop in the dark', 'Sheet 1: turn knob']);
    expect(entries(bench, 'exposure').slice(1)).toMatchObject([
      { kind: 'safelight', patch: 1, plannedMs: 2000, outcome: 'complete' },
      { kind: 'safelight', patch: 2, plannedMs: 2000, outcome: 'complete' },
    ]);
    expect(entries(bench, 'sheet-ended')).toMatchObject([{ outcome: 'complete', strips: 1, wasted: 0 }]);
  });

  it('calls each move at 1, 3 and 7 minutes, with the lamp off and the safelight on', () => {
    const bench = evening();
    greyBefore(bench);
    bench.tap();
    bench.seconds(1);
    const called: number[] = [];
    for (let second = 1; second < 7 * MINUTE; second += 2) {
      if (heardIn(bench, 2) === 'long short') called.push(second + 1);
      expect(bench.board.lampOn).toBe(false);
      expect(bench.board.safelightOn).toBe(bench.panel[3] === 'Safelight on');
    }
    expect(called.map((second) => second / MINUTE)).toEqual([1, 3, 7]);
  });

  it('shows how far the card goes and when it moves next', () => {
    const bench = evening();
    greyBefore(bench);
    bench.tap();
    bench.seconds(30);
    expect(bench.panel).toEqual(['Hold: back to rest', '0:30 to next move', 'Cover band 1', 'Safelight on']);
    bench.seconds(31);
    expect(bench.panel.slice(1, 3)).toEqual(['1:59 to next move', 'Cover bands 1 to 2']);
    bench.seconds(120);
    expect(bench.panel.slice(1, 3)).toEqual(['3:59 to next move', 'Cover bands 1 to 3']);
  });

  it('minds no tap while the safelight is timed, and a hold leads back to rest', () => {
    const bench = evening();
    greyBefore(bench);
    bench.tap();
    bench.seconds(30);
    bench.tap();
    expect(bench.panel[0]).toBe('Hold: back to rest');
    bench.hold();
    expect(bench.panel[0]).toBe('Tap test Hold focus');
    expect(entries(bench, 'sheet-ended')).toMatchObject([{ outcome: 'stopped', wasted: 1 }]);
  });

  it.each([
    // It began with seven minutes, so that a careless push made any safelight a safe one.
    { turns: 0, shows: ['Safe for 0 min', 'Band 2 is fogged'], minutes: 0 },
    { turns: 1, shows: ['Safe for 1 min', 'Band 3 is fogged'], minutes: 1 },
    { turns: 2, shows: ['Safe for 3 min', 'Band 4 is fogged'], minutes: 3 },
    { turns: 3, shows: ['Safe for 7 min', 'No band is fogged'], minutes: 7 },
    { turns: 9, shows: ['Safe for 7 min', 'No band is fogged'], minutes: 7 },
  ])(
    'read as "$shows.1" is safe for $minutes minutes, also after the power was off',
    ({ turns, shows, minutes }) => {
      const board = new SimulatedBoard();
      const bench = evening(board);
      giveTest(bench);
      bench.turn(1);
      bench.turn(turns);
      expect(bench.panel.slice(1)).toEqual([...shows, 'Knob: first fogged']);
      bench.push();
      expect(entries(bench, 'test-result')).toMatchObject([{ what: 'safe-minutes', value: minutes }]);
      bench.seconds(2);
      board.cutPower();
      board.restorePower();
      const later = new EveningBench(board);
      later.greet();
      expect(safeMinutes(later)).toEqual([minutes]);
    },
  );

  it('gives the grey that the knob turned to', () => {
    const bench = evening();
    bench.tap();
    bench.turn(12);
    expect(bench.panel.slice(1)).toEqual(['4.00 s', 'Safelight test', 'Knob: a light grey']);
    bench.answer();
    bench.tap();
    bench.seconds(5);
    expect(entries(bench, 'exposure').at(-1)).toMatchObject({ plannedMs: 4000, doseMs: 4000 });
  });
});

describe('the safelight in its test', () => {
  /** At each step of the test: what the panel says, and whether the board's own safelight is on. */
  function seen(bench: EveningBench): [string, boolean][] {
    const steps: [string, boolean][] = [];
    const look = () => steps.push([bench.panel[3]!, bench.board.safelightOn]);
    bench.tap();
    look();
    bench.tap();
    bench.seconds(GREY_SECONDS);
    look();
    bench.tap();
    bench.seconds(MINUTE);
    look();
    bench.seconds(6 * MINUTE + 1);
    look();
    bench.tap();
    bench.seconds(GREY_SECONDS);
    look();
    bench.hold();
    look();
    return steps;
  }

  it('is on for its minutes alone, from the first grey until the sheet goes away, and the panel says so', () => {
    expect(seen(evening())).toEqual([
      ['Safelight off', false],
      ['Tap: safelight on', false],
      ['Safelight on', true],
      ['Safelight off', false],
      ['Sheet 1: turn knob', false],
      ['Push knob: read it', true],
    ]);
  });

  it('stays off all the time where stray light is looked for', () => {
    const bench = evening();
    bench.turn(1);
    expect(bench.panel).toEqual([
      ...['Tap test Hold focus', '2.00 s light grey', 'Stray light test', 'Paper out after tap'],
    ]);
    expect(seen(bench)).toEqual([
      ['Safelight off', false],
      ['Safelight stays off', false],
      ['Safelight stays off', false],
      ['Safelight off', false],
      ['Sheet 1: turn knob', false],
      ['Push knob: read it', true],
    ]);
  });

  it('is off in the baths as well when the sheet goes there, and on when it is looked at', () => {
    const bench = evening();
    bench.ask({ type: 'set-setting', id: 0, name: 'bath-follows', value: 1 });
    giveTest(bench);
    expect(bench.panel[0]).toBe('Tap baths Hold rest');
    bench.tap();
    for (let bath = 0; bath < 4; bath++) {
      expect(bench.panel[0]).toBe('Tap bath Hold back');
      expect(bench.board.safelightOn).toBe(false);
      bench.tap();
      bench.seconds(2);
      expect(bench.board.safelightOn).toBe(false);
      bench.seconds(3600);
    }
    expect(bench.panel[0]).toBe('Tap read Hold rest');
    expect(bench.board.safelightOn).toBe(true);
  });

  it('is on again when the test is backed out of', () => {
    const bench = evening();
    greyBefore(bench);
    expect(bench.board.safelightOn).toBe(false);
    bench.hold();
    expect(bench.board.safelightOn).toBe(true);
  });
});

// The same sheet with the safelight off all the time: common practice, no source.
describe('the test for stray light', () => {
  it('has a result of its own, and leaves what is known of the safelight as it is', () => {
    const bench = evening();
    bench.ask({ type: 'set-setting', id: 0, name: 'safe-minutes', value: 3 });
    bench.turn(1);
    giveTest(bench);
    bench.turn(1);
    expect(bench.panel.slice(1)).toEqual(['Dark for 0 min', 'Band 2 is fogged', 'Knob: first fogged']);
    bench.turn(1);
    bench.push();
    expect(entries(bench, 'sheet')).toMatchObject([{ job: 'stray-light-test', baseMs: 2000, patches: 4 }]);
    expect(entries(bench, 'exposure').slice(1)).toMatchObject([
      { kind: 'stray', patch: 1, plannedMs: 2000 },
      { kind: 'stray', patch: 2, plannedMs: 2000 },
    ]);
    expect(entries(bench, 'test-result')).toMatchObject([{ what: 'dark-minutes', value: 1 }]);
    expect(safeMinutes(bench)).toEqual([3]);
    expect(bench.panel[0]).toBe('Tap strip Hold focus');
  });
});

/** A strip with all its light, `safe` minutes being allowed. */
function stripGiven(safe: number, follows = 0): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries({ 'safe-minutes': safe, 'bath-follows': follows, metronome: 0 }))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  bench.focusAndStopDown();
  bench.tap();
  for (let patch = 0; patch < 6; patch++) {
    bench.tap();
    bench.seconds(33);
  }
  return bench;
}

describe('paper that lies out', () => {
  it('longer than the safelight allows is told, by tone and in words', () => {
    const bench = stripGiven(4);
    expect(bench.panel[3]).toBe('Sheet 1: turn knob');
    expect(heardIn(bench, MINUTE)).toBe('quick quick quick quick quick');
    expect(bench.panel[3]).toBe('Paper out 4 min!');
    bench.hold();
    bench.tap();
    expect(bench.panel[3]).toBe('Patch 1/6 2.00 s');
  });

  it('is not told of where the safelight was never tested', () => {
    const bench = stripGiven(-1);
    expect(heardIn(bench, 10 * MINUTE)).toBe('');
    expect(bench.panel[3]).toBe('Sheet 1: turn knob');
  });

  it('is told of at once where the safelight is not safe at all', () => {
    expect(stripGiven(0).panel[3]).toBe('Paper out 3 min!');
  });

  /** A plain exposure with all its light, `minutes` being allowed. */
  function plainGiven(minutes: number): EveningBench {
    const bench = new EveningBench();
    bench.greet();
    for (const [name, value] of Object.entries({ 'safe-minutes': minutes, 'lens-check': 0, metronome: 0 }))
      bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
    bench.ask({ type: 'choose', id: 0, job: 'plain', name: '' });
    bench.tap();
    bench.tap();
    bench.seconds(20);
    return bench;
  }

  it.each([1, 3, 60])(
    'is told by tone when it has been out for %i minutes from its first light',
    (minutes) => {
      const bench = plainGiven(minutes);
      const since = bench.board.lampEdges.at(-2)!;
      expect(since.on).toBe(true);
      const fromUs = bench.board.nowUs;
      bench.seconds(MINUTE * minutes);
      const [first] = bench.board.tones.filter(({ atUs, hz }) => atUs > fromUs && hz > 0);
      expect(first!.atUs - since.atUs).toBe(minutes * MINUTE * 1_000_000);
    },
  );

  it('is told by tone after a minute where the safelight is not safe at all', () => {
    expect(heardIn(plainGiven(0), MINUTE)).toBe('quick quick quick quick quick');
  });

  it('of the sheet before is forgotten with the next one out of the box, and what still sounds ends', () => {
    const bench = plainGiven(1);
    bench.tap();
    bench.tap();
    const fromUs = bench.board.nowUs;
    for (let moments = 0; moments < 400 && bench.panel[0] !== 'Tap again Hold rest'; moments++)
      bench.seconds(0.05);
    bench.seconds(0.3);
    bench.tap();
    expect(bench.panel[0]).toBe('Tap start Hold back');
    bench.seconds(5);
    expect(heardSince(bench, fromUs)).toMatch(/long long long$/);
    expect(bench.board.tones.at(-1)!.hz).toBe(0);
  });

  it('counts from its first light to the first bath, and the log says how long that was', () => {
    const bench = stripGiven(4, 1);
    bench.seconds(MINUTE);
    bench.tap();
    expect(bench.panel[3]).toBe('Paper out 4 min!');
    bench.tap();
    bench.tap();
    expect(bench.panel[3]).toBe('Bath 2/4, 1 sheet');
    const [used] = entries(bench, 'bath-used');
    const [first] = entries(bench, 'exposure').filter(
      (entry) => entry.type === 'exposure' && entry.kind === 'strip',
    );
    expect(used).toMatchObject({ bath: 1, label: 'developer', sheets: 1 });
    const outMs = used!.type === 'bath-used' ? used!.outMs + used!.givenMs : 0;
    // The exposure's entry was begun when the foot came down, at most a hold before the lamp.
    expect(Math.abs(used!.uptimeMs - first!.uptimeMs - outMs)).toBeLessThan(800);
  });

  it('that was given up is gone, and the next sheet counts from its own first light', () => {
    const bench = stripGiven(4, 1);
    bench.tap();
    bench.hold();
    bench.tap();
    bench.tap();
    bench.seconds(1);
    bench.hold();
    bench.seconds(2 * MINUTE);
    expect(bench.panel[3]).toBe('Paper out 5 min!');
  });
});
