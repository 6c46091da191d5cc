import { describe, expect, it } from 'vitest';
import { EveningBench } from '../evening/evening-bench.js';

function readyBench(): EveningBench {
  const bench = new EveningBench();
  bench.focusAndStopDown();
  bench.tap();
  return bench;
}

/** The contact closes and opens `times` times in `us`, closed for a half of it. */
function bounce(bench: EveningBench, us: number, times: number, endsDown: boolean): void {
  for (let half = 0; half < times * 2; half++) {
    bench.board.pedal(half % 2 === 0 ? endsDown : !endsDown);
    bench.board.advanceUs(us / times / 2);
  }
  bench.board.pedal(endsDown);
}

describe('the pedal', () => {
  it('starts the lamp within a millisecond of being let go', () => {
    const bench = readyBench();
    bench.board.pedal(true);
    bench.board.advanceUs(120_000);
    expect(bench.board.lampOn).toBe(false);
    bench.board.pedal(false);
    const releasedUs = bench.board.nowUs;
    bench.board.advanceUs(10_000);
    expect(bench.board.lampEdges.at(-1)!.on).toBe(true);
    expect(bench.board.lampEdges.at(-1)!.atUs - releasedUs).toBeLessThanOrEqual(1000);
  });

  it('is not moved by spikes of 50 us, however many', () => {
    const bench = readyBench();
    for (let spike = 0; spike < 1000; spike++) {
      bench.board.pedal(true);
      bench.board.advanceUs(50);
      bench.board.pedal(false);
      bench.board.advanceUs(950);
    }
    bench.board.advanceUs(100_000);
    expect(bench.panel[0]).toBe('Tap start Hold back');
    expect(bench.pulses).toHaveLength(1);
  });

  it('puts the lamp out within a millisecond through 15 ms of bounce', () => {
    const bench = readyBench();
    bench.tap();
    bench.seconds(0.5);
    const pressedUs = bench.board.nowUs;
    bounce(bench, 15_000, 30, true);
    expect(bench.board.lampEdges.at(-1)!.on).toBe(false);
    expect(bench.board.lampEdges.at(-1)!.atUs - pressedUs).toBeLessThanOrEqual(1000);
  });

  // Of the time for which it is open again the closed time loses a quarter: so a bouncing contact hardly waits.
  it.each([
    [150, 40],
    [100, 100],
    [190, 4],
    [120, 400],
  ])(
    'closed for %i us and open for %i puts the lamp out when what it was closed for comes to 0.2 ms',
    (closedUs, openUs) => {
      const bench = readyBench();
      bench.tap();
      bench.seconds(0.5);
      const pressedUs = bench.board.nowUs;
      for (const [down, us] of [
        [true, closedUs],
        [false, openUs],
        [true, 1000],
      ] as const) {
        bench.board.pedal(down);
        bench.board.advanceUs(us);
      }
      const wantedUs = closedUs + openUs + 200 - Math.max(0, closedUs - Math.floor(openUs / 4));
      expect(bench.board.lampEdges.at(-1)).toMatchObject({ on: false, atUs: pressedUs + wantedUs });
    },
  );

  it('that bounces on the way down and on the way up is one tap', () => {
    const bench = readyBench();
    bounce(bench, 15_000, 20, true);
    bench.board.advanceUs(100_000);
    bounce(bench, 15_000, 20, false);
    bench.board.advanceUs(500_000);
    expect(bench.board.lampOn).toBe(true);
    expect(bench.pulses).toHaveLength(1);
  });

  it('holds at 0.8 s of being down, not before', () => {
    const bench = new EveningBench();
    bench.board.pedal(true);
    bench.board.advanceUs(799_000);
    expect(bench.board.lampOn).toBe(false);
    bench.board.advanceUs(2000);
    expect(bench.board.lampOn).toBe(true);
  });

  it('is not heard within 250 ms of a start', () => {
    const bench = readyBench();
    bench.tap();
    bench.board.advanceUs(50_000);
    bench.tap();
    expect(bench.board.lampOn).toBe(true);
  });

  it('pressed within 250 ms of a start and held backs out all the same', () => {
    const bench = readyBench();
    bench.tap();
    bench.board.advanceUs(50_000);
    bench.hold();
    expect(bench.board.lampOn).toBe(false);
    expect(bench.panel[0]).toBe('Tap go on Hold focus');
  });

  it('pressed as the lamp goes out by itself does not start the next patch', () => {
    const bench = readyBench();
    bench.tap();
    const started = bench.board.lampEdges.at(-1)!.atUs;
    bench.board.advanceUs(started + 2_000_000 - bench.board.nowUs + 30_000);
    expect(bench.board.lampOn).toBe(false);
    bench.tap();
    expect(bench.board.lampOn).toBe(false);
    bench.seconds(1);
    bench.tap();
    expect(bench.board.lampOn).toBe(true);
  });

  it('that is down at power-up is stuck, and exposes nothing until it is let go and pressed anew', () => {
    const bench = new EveningBench();
    bench.board.pedal(true);
    bench.board.reset('reset-pin');
    bench.seconds(30);
    expect(bench.panel[0]).toBe('Let go of the pedal');
    bench.board.pedal(false);
    bench.seconds(1);
    expect(bench.panel[0]).toBe('Tap lens Hold focus');
    expect(bench.pulses).toEqual([]);
    bench.greet();
    expect(bench.log().map((entry) => entry.type)).toContain('pedal-stuck');
  });

  it('down for more than 10 s is stuck, with the lamp off', () => {
    const bench = new EveningBench();
    bench.board.pedal(true);
    bench.seconds(11);
    expect(bench.board.lampOn).toBe(false);
    expect(bench.panel[0]).toBe('Let go of the pedal');
    bench.greet();
    expect(bench.log().at(-1)).toMatchObject({ type: 'exposure', kind: 'focus' });
    expect(bench.log().at(-2)).toMatchObject({ type: 'pedal-stuck', heldMs: 10_000 });
  });
});
