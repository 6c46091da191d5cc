import { describe, expect, test } from 'vitest';
import { eventCosts, pedalToLampUs, printWaiting } from './rig/measures.js';
import { boardTestsRun } from './rig/requirements.js';

/** From the pedal's edge to the relay's: what the design allows, bounce and begin record included. */
const LATENCY_US = 1000;
/** The watchdog's time (watchdog.h) must be far from anything that an event may take. */
const LONGEST_EVENT_US = 50_000;

describe.runIf(boardTestsRun)('from the foot to the lamp, on the chip', () => {
  test.for([1, 2])(
    'it takes at most a millisecond, with 15 ms of bounce and the record that begins the exposure (seed %i)',
    (seed) => {
      expect(pedalToLampUs(seed)).toBeLessThanOrEqual(LATENCY_US);
    },
  );

  test.for([7])('and no more while the laptop pulls the log (seed %i)', (seed) => {
    expect(pedalToLampUs(seed, true)).toBeLessThanOrEqual(LATENCY_US);
  });

  test('a spike of 50 us starts nothing', () => {
    const bench = printWaiting();
    const before = bench.board.lampEdges.length;
    for (let spike = 0; spike < 20; spike++) {
      bench.board.pedal(true);
      bench.board.advanceUs(50);
      bench.board.pedal(false);
      bench.board.advanceUs(20_000);
    }
    bench.seconds(1);
    expect(bench.board.lampEdges).toHaveLength(before);
  });

  test("no event of the core keeps the board anywhere near the watchdog's time", () => {
    const { costs } = eventCosts();
    expect(costs.size).toBeGreaterThan(5);
    for (const [name, { worstUs }] of costs) expect(worstUs, name).toBeLessThan(LONGEST_EVENT_US);
  });
});
