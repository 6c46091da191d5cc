import { beforeAll, describe, expect, test } from 'vitest';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { playDarkEvening } from '../core/evening/dark-evening.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';

/** Where the foot, and not the board, ends or times something, to the millisecond. */
const FOOT_MS = 2;

/** An entry without the times that two boards cannot share: when, and what a foot ended. */
function told(entry: object): Record<string, unknown> {
  const plain: Record<string, unknown> = { ...entry };
  for (const field of ['id', 'uptimeMs', 'onMs', 'doseMs', 'givenMs', 'outMs']) delete plain[field];
  return plain;
}

describe.runIf(boardTestsRun)('an evening with the laptop shut, on the chip', () => {
  const simulated = playDarkEvening(new EveningBench(new SimulatedBoard()));
  let board: EmulatedBoard;
  let emulated: ReturnType<typeof playDarkEvening<EmulatedBoard>>;

  beforeAll(() => {
    board = new EmulatedBoard({ image: buildImage() });
    emulated = playDarkEvening(new EveningBench(board));
  }, 240_000);

  test('shows the screens that the simulated board shows', () => {
    expect(emulated.screens).toEqual(simulated.screens);
  });

  test('logs what the simulated board logs', () => {
    const [chip, model] = [emulated.bench.log(), simulated.bench.log()];
    expect(chip.map(told)).toEqual(model.map(told));
    chip.forEach((entry, at) => {
      const other = model[at]!;
      if (entry.type === 'bath-used' && other.type === 'bath-used')
        expect(Math.abs(entry.givenMs - other.givenMs)).toBeLessThanOrEqual(FOOT_MS);
      if (entry.type === 'exposure' && other.type === 'exposure')
        expect(Math.abs(entry.doseMs - other.doseMs)).toBeLessThanOrEqual(FOOT_MS);
    });
  });

  test('gives the lamp pulses of the simulated board, each to 2 us but those that a foot ended', () => {
    expect(emulated.bench.pulses).toHaveLength(simulated.bench.pulses.length);
    const [, ...chip] = emulated.bench.pulses;
    const [, ...model] = simulated.bench.pulses;
    chip.forEach((us, at) => {
      expect(Math.abs(us - model[at]!)).toBeLessThanOrEqual(2);
    });
  });

  test('asks nothing of the parts that a real one would not do', () => {
    expect(board.mistakes).toEqual([]);
    expect(board.watchdogResets).toEqual([]);
  });
});
