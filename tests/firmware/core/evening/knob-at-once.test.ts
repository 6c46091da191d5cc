import { describe, expect, it } from 'vitest';
import { pushKnob, tapPedal } from '../../../../host/board/sim/controls.js';
import { EveningBench } from './evening-bench.js';
import { works } from './random-evening.js';
import { makeReady, turnSlowly } from './slow-clicks.js';

type Work = (typeof works)[number];

function begin(job: Work, settings: Readonly<Record<string, number>> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries(settings))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  for (const [at, trayC10] of [180, 200, 240].entries()) {
    const times = { trayC10, resinCoatedSeconds: 120 - 30 * at, fibreSeconds: 240 - 60 * at };
    bench.ask({ type: 'point-set', id: 0, point: at + 1, points: 3, label: 'developer', ...times });
  }
  makeReady(bench, job);
  return bench;
}

/** At the figure that so many pushes lead to. */
function atFigure(job: Work, pushes: number): EveningBench {
  const bench = begin(job);
  for (let push = 0; push < pushes; push++) bench.push();
  bench.seconds(1);
  return bench;
}

// Beyond an end they are refused together, and one by one they go as far as it is; a card is another after any turn.
describe.each([2, -2])('clicks that are told together, %i of them', (clicks) => {
  it.each(works.filter((job) => job !== 'process'))(
    'lead where as many lead that come one by one, at each figure of %s',
    (job) => {
      const figures = new Set<string>();
      for (let pushes = 1; pushes < 9; pushes++) {
        const together = atFigure(job, pushes);
        const name = together.panel.slice(2).join('|');
        if (figures.has(name)) break;
        figures.add(name);
        if (name.endsWith('the card')) continue;
        together.turn(clicks);
        together.seconds(0.5);
        expect([name, together.panel.join('|')]).toEqual([
          name,
          turnSlowly(atFigure(job, pushes), clicks, 0.5),
        ]);
      }
      expect(figures.size).toBeGreaterThan(0);
    },
  );
});

describe('a foot that comes down while the knob is held down', () => {
  it.each(['strip', 'recipe', 'plain'] as const)(
    'is what counts: the knob that is let go then does nothing, at a %s',
    (job) => {
      const [held, alone] = [begin(job), begin(job)];
      for (const bench of [held, alone]) {
        bench.hold();
        bench.seconds(1);
      }
      held.board.knobPush(true);
      held.seconds(0.1);
      tapPedal(held.board);
      held.board.knobPush(false);
      tapPedal(alone.board);
      for (const bench of [held, alone]) bench.seconds(1);
      expect(held.panel).toEqual(alone.panel);
      for (const bench of [held, alone]) pushKnob(bench.board);
      expect(held.panel).toEqual(alone.panel);
    },
  );
});

describe('the temperature of the tray', () => {
  it.each([
    [203, 1, '20.5'],
    [203, -1, '20.0'],
    [200, 1, '20.5'],
    [200, -1, '19.5'],
    [198, 2, '20.5'],
    [198, -2, '19.0'],
  ])(
    'of %i tenths goes by %i clicks of half a degree to %s C, which both its neighbours do',
    (trayC10, clicks, shown) => {
      const bench = begin('process', { 'tray-c10': trayC10 });
      bench.pushTo('Knob: temperature');
      bench.turn(clicks);
      expect(bench.panel[1]).toMatch(new RegExp(`^${shown.replace('.', '\\.')} C`));
      bench.hold();
      bench.seconds(3);
      const [kept] = bench.ask({ type: 'get-setting', id: 0, name: 'tray-c10' });
      expect(kept).toMatchObject({ value: Number(shown) * 10 });
      bench.offAndOn();
      expect(bench.ask({ type: 'get-setting', id: 0, name: 'tray-c10' })).toMatchObject([
        { value: Number(shown) * 10 },
      ]);
    },
  );
});

describe('a turn in seconds', () => {
  it('turns what is an offset in stops by as much as a new board does', () => {
    const offsets = [12, 0].map((step) => {
      const bench = begin('recipe', { 'knob-step': step });
      bench.pushTo('Knob: this dodge');
      bench.turn(1);
      return bench.panel.join('|');
    });
    expect(offsets[1]).toBe(offsets[0]);
  });
});

describe('a bath that a laptop says was mixed fresh', () => {
  it('starts from nothing, and every other one has what went through it, over power-off too', () => {
    for (const mixed of [1, 2, 3, 4]) {
      const bench = new EveningBench();
      bench.greet();
      bench.ask({ type: 'choose', id: 0, job: 'process', name: '' });
      for (let sheet = 0; sheet < 2; sheet++) {
        bench.tap();
        for (let bath = 0; bath < 4; bath++) {
          bench.tap();
          bench.seconds(3601);
        }
        bench.hold();
        bench.seconds(2);
      }
      const told = () =>
        [1, 2, 3, 4].map((bath) =>
          bench.ask({ type: 'bath-get', id: 0, bath }).map((line) => ({ ...line, id: 0 })),
        );
      const before = told();
      expect(before.flat()).toMatchObject(Array(4).fill({ sheets: 2 }));
      expect(bench.ask({ type: 'bath-renew', id: 0, bath: mixed })).toMatchObject([{ type: 'ok' }]);
      const asItShouldBe = before.map(([bath], at) => [
        at + 1 === mixed ? { ...bath, sheets: 0, areaCm2: 0 } : bath,
      ]);
      expect(told()).toEqual(asItShouldBe);
      bench.offAndOn();
      expect(told()).toEqual(asItShouldBe);
    }
  });
});
