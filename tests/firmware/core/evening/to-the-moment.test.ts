import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { chooseWork } from './choose-work.js';
import { EveningBench } from './evening-bench.js';

// What the board's notes say of times, held to the microsecond that the events have.

/** The contact of a pedal is believed when it has been closed for so long. */
const SETTLES_US = 200;

function begin(settings: Readonly<Record<string, number>> = {}): EveningBench {
  const bench = new EveningBench();
  bench.greet();
  for (const [name, value] of Object.entries({ 'lens-check': 0, 'confirm-filter': 0, ...settings }))
    bench.ask({ type: 'set-setting', id: 0, name: name as 'metronome', value });
  return bench;
}

describe('a foot that comes too soon after the lamp', () => {
  /** A strip's first light, of two seconds, has come on; or has gone out. */
  const strip = (seconds: number) => {
    const bench = begin();
    bench.ask({
      ...{ type: 'strip-set', id: 0, firstMs: 2000, stepStops120: 60, stepMs: 0, patches: 3 },
      ...{ cover: 'separate', filter: '' },
    });
    bench.tap();
    bench.board.pedal(true);
    bench.board.advanceUs(30_000);
    bench.board.pedal(false);
    bench.board.advanceUs(1000);
    bench.board.advanceUs(seconds * 1_000_000);
    return bench;
  };
  const focus = () => {
    const bench = begin({ 'focus-limit-s': 10 });
    bench.hold();
    bench.seconds(10);
    return bench;
  };

  /** Whether a press so long after the lamp's last edge is heard: light comes of it, or goes. */
  function isHeard(start: () => EveningBench, afterUs: number): boolean {
    const bench = start();
    const { atUs } = bench.board.lampEdges.at(-1)!;
    bench.board.advanceUs(atUs + afterUs - SETTLES_US - bench.board.nowUs);
    const before = [bench.board.lampOn, bench.panel[0]].join();
    bench.board.pedal(true);
    bench.board.advanceUs(30_000);
    bench.board.pedal(false);
    bench.board.advanceUs(60_000);
    return [bench.board.lampOn, bench.panel[0]].join() !== before;
  }

  // DEVELOPERS.md of the core: for a quarter of a second after light began, and after it ended by itself.
  it.each([
    ['has come on', () => strip(0)],
    ['has gone out over paper', () => strip(2)],
    ['has gone out that was for focusing', focus],
  ] as const)('%s is heard from a quarter of a second on, and not a moment before', (_, start) => {
    const QUARTER_US = 1_000_000 / 4;
    expect([QUARTER_US - 1, QUARTER_US].map((us) => isHeard(start, us))).toEqual([false, true]);
  });
});

describe('the checkup', () => {
  it('takes the light of the display down at each whole second since it asked about it', () => {
    const bench = begin();
    bench.turn(9);
    for (let taps = 0; taps < 3; taps++) bench.tap();
    bench.turn(3);
    bench.turn(-3);
    let shownUs = 0;
    bench.board.on('panel', () => {
      shownUs = bench.board.nowUs;
    });
    bench.push();
    for (let second = 1; second <= 5; second++) {
      bench.board.advanceUs(shownUs + second * 1_000_000 - 1 - bench.board.nowUs);
      const before = bench.board.displayLightPercent;
      bench.board.advanceUs(1);
      expect(bench.board.displayLightPercent, `second ${second}`).not.toBe(before);
    }
  });
});

describe('the question whether new firmware may come', () => {
  // hardware-notes/flashing.md: thirty seconds send it away.
  it('is there for just half a minute', () => {
    const bench = begin();
    bench.seconds(3);
    bench.askAtOnce({ type: 'make-way', id: 0, ask: true });
    bench.board.advanceUs(30_000_000 - 1);
    expect(bench.panel[1]).toBe('New firmware?');
    bench.board.advanceUs(1);
    expect(bench.panel[1]).not.toBe('New firmware?');
  });
});

describe('a pulse of several dodges without a stop', () => {
  it('counts each piece down to its own end', () => {
    const bench = begin({ 'pause-for-dodges': 0 });
    const dodges = [40, 40, 40].map((less, at) => ({ label: `part ${at + 1}`, stops120: -less }));
    bench.print({ ...boathouse, passes: [{ ...boathouse.passes[0]!, dodges }] });
    bench.tap();
    bench.tap();
    const onUs = bench.board.lampEdges.at(-1)!.atUs;
    // A third of a stop less is 1 - 2^(-1/3) of the base: by definition.
    const dodgeUs = Math.round(boathouse.baseMs * (1 - 2 ** (-1 / 3))) * 1000;
    const endsUs = [1, 2, 3].map((count) => count * dodgeUs).concat(boathouse.baseMs * 1000);
    for (const [piece, endUs] of endsUs.entries()) {
      const beganUs = endsUs[piece - 1] ?? 0;
      // The panel's figures go on by the second since the light began, and at once where a piece begins.
      bench.board.advanceUs(onUs + beganUs + 1000 - bench.board.nowUs);
      const shown = Number.parseFloat(bench.panel[1]!);
      const leftSeconds = (endUs - beganUs) / 1_000_000;
      expect(shown, `piece ${piece + 1}: ${bench.panel}`).toBeGreaterThan(leftSeconds - 0.1);
      expect(shown, `piece ${piece + 1}: ${bench.panel}`).toBeLessThan(leftSeconds + 1.1);
    }
  });
});

describe('the rest of a light', () => {
  // What the laptop is told of it is in whole milliseconds, and the panel shows those in hundredths.
  it.each([5_004_499, 5_004_500, 5_004_999])(
    'of %i us is on the panel as the laptop is told it',
    (restUs) => {
      const bench = begin();
      chooseWork(bench, 'plain');
      bench.ask({ type: 'watch', id: 0, on: true });
      bench.tap();
      bench.tap();
      const { atUs } = bench.board.lampEdges.at(-1)!;
      bench.board.advanceUs(atUs + 10_000_000 - restUs - SETTLES_US - bench.board.nowUs);
      bench.tap();
      expect(bench.pulses.at(-1)).toBe(10_000_000 - restUs);
      bench.ask({ type: 'ping', id: 0 });
      const told = bench.notices.flatMap((line) => (line.type === 'moved' ? [line] : [])).at(-1)!;
      expect(told.remainingMs).toBe(Math.round(restUs / 1000));
      expect(bench.panel[1]).toContain(`${(Math.round(told.remainingMs / 10) / 100).toFixed(2)} s`);
    },
  );
});
