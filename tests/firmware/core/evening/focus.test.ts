import { describe, expect, it } from 'vitest';
import { boathouse } from './boathouse.js';
import { EveningBench } from './evening-bench.js';

describe('the light for focusing', () => {
  it('comes on by a hold at rest and goes out at the press', () => {
    const bench = new EveningBench();
    bench.hold();
    expect(bench.board.lampOn).toBe(true);
    bench.board.pedal(true);
    bench.board.advanceUs(300);
    expect(bench.board.lampOn).toBe(false);
  });

  it('left on goes out after three minutes', () => {
    const bench = new EveningBench();
    bench.hold();
    bench.seconds(200);
    expect(bench.pulses).toEqual([180_000_000]);
    expect(bench.panel[0]).toBe('Stopped down? Hold');
  });

  it('lets nothing expose before a hold has confirmed that the lens is stopped down', () => {
    const bench = new EveningBench();
    bench.hold();
    bench.tap();
    for (let taps = 0; taps < 5; taps++) bench.tap();
    expect(bench.pulses).toHaveLength(1);
    expect(bench.panel[0]).toBe('Stopped down? Hold');
    bench.hold();
    bench.tap();
    bench.tap();
    expect(bench.board.lampOn).toBe(true);
  });

  it('is not taken for a confirmed lens when the press that puts it out is held on', () => {
    const bench = new EveningBench();
    bench.hold();
    bench.seconds(5);
    bench.hold();
    expect(bench.panel[0]).toBe('Stopped down? Hold');
  });

  it('is followed by no lens check where the setting says so', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.ask({ type: 'set-setting', id: 0, name: 'lens-check', value: 0 });
    bench.hold();
    bench.tap();
    expect(bench.panel[0]).toBe('Tap strip Hold focus');
  });

  it('asks about the lens once after power-up, since nobody knows how it was left', () => {
    const bench = new EveningBench();
    expect(bench.panel[0]).toBe('Tap lens Hold focus');
    bench.tap();
    bench.hold();
    expect(bench.panel[0]).toBe('Tap strip Hold focus');
  });

  it('asks about the lens after each time that it was on, since it was opened for it', () => {
    const bench = new EveningBench();
    for (let times = 0; times < 3; times++) {
      bench.focusAndStopDown();
      expect(bench.panel[0]).toBe('Tap strip Hold focus');
      bench.hold();
      bench.tap();
      expect(bench.panel[0]).toBe('Stopped down? Hold');
      bench.hold();
    }
  });

  it('is logged with when it came on and how long it was on, and so is the confirmed lens', () => {
    const bench = new EveningBench();
    bench.greet();
    bench.focusAndStopDown();
    const log = bench.log();
    expect(log).toMatchObject([{ type: 'started', cause: 'power' }, { kind: 'focus' }, { type: 'lens' }]);
    expect(log[1]).toMatchObject({ onMs: Math.round(bench.pulses[0]! / 1000), outcome: 'complete' });
    const cameOnMs = bench.board.lampEdges[0]!.atUs / 1000;
    expect(Math.abs((log[1] as { uptimeMs: number }).uptimeMs - cameOnMs)).toBeLessThanOrEqual(1);
  });

  it('has the safelight out while it is on', () => {
    const bench = new EveningBench();
    bench.hold();
    expect(bench.board.safelightOn).toBe(false);
    bench.tap();
    expect(bench.board.safelightOn).toBe(true);
  });

  // Source: the marks on a lens's ring.
  it.each([
    [28, '2.8'],
    [40, '4'],
    [56, '5.6'],
    [80, '8'],
    [110, '11'],
    [160, '16'],
  ])('asks for the stop of the recipe as the lens has it: %i tenths are f/%s', (aperture10, mark) => {
    const bench = new EveningBench();
    bench.greet();
    bench.print({ ...boathouse, aperture10 });
    bench.hold();
    bench.tap();
    expect(bench.panel.slice(1)).toEqual(['Stop the lens down', `to f/${mark}`, 'before any paper']);
  });
});
