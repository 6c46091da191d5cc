import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { EveningBench } from '../../core/evening/evening-bench.js';
import { type Evening, spendEvening, withoutLight } from '../short-evening.js';
import { MicrobitBoard } from './microbit-board.js';
import { secondChipImage, secondChipRuns } from './requirements.js';

/** The firmware looks at contacts once a millisecond, and the rig sees an edge of the lamp at the tick that follows it. */
const TICK_US = 1000;

describe.runIf(secondChipRuns)('an evening on the second chip', () => {
  let simulated: Evening;
  let emulated: Evening;
  let board: MicrobitBoard;

  beforeAll(() => {
    simulated = spendEvening(new EveningBench(new SimulatedBoard()));
    board = new MicrobitBoard({ image: secondChipImage() });
    emulated = spendEvening(new EveningBench(board));
  }, 240_000);

  afterAll(() => board?.close());

  test('shows what the simulated board shows', () => {
    expect(emulated.panels).toEqual(simulated.panels);
  });

  test('lights the lamp as often and as long, to two ticks of a millisecond', () => {
    expect(emulated.pulsesUs).toHaveLength(simulated.pulsesUs.length);
    emulated.pulsesUs.forEach((us, at) => {
      expect(Math.abs(us - simulated.pulsesUs[at]!)).toBeLessThanOrEqual(2 * TICK_US);
    });
  });

  test('logs what the simulated board logs, light that a foot ended to two milliseconds', () => {
    expect(emulated.log.map(withoutLight)).toEqual(simulated.log.map(withoutLight));
    for (const field of ['onMs', 'doseMs'])
      emulated.log.forEach((entry, at) => {
        const told = Number(entry[field] ?? 0);
        expect(Math.abs(told - Number(simulated.log[at]![field] ?? 0))).toBeLessThanOrEqual(2);
      });
  });

  test('never starts anew by itself', () => {
    expect(board.ownResets).toEqual([]);
  });
});
