import { beforeAll, describe, expect, test } from 'vitest';
import { SimulatedBoard } from '../../../host/board/sim/simulated-board.js';
import { EveningBench } from '../core/evening/evening-bench.js';
import type { Chip } from './rig/chip.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import { buildImage } from './rig/image.js';
import { boardTestsRun } from './rig/requirements.js';
import { type Evening, spendEvening, withoutLight } from './short-evening.js';

/** What a relay's edge may be off. */
const ALLOWED_US = 2;
/** The boot block runs on a stack of the boot ROM's, higher up. */
const BOOT_ROM_STACK = 0x2001_0000;
/** What a pedal may be late. */
const FOOT_US = 1000;

describe.runIf(boardTestsRun)('an evening on the chip', () => {
  let simulated: Evening;
  let emulated: Evening;
  let board: EmulatedBoard;
  let lowestStack = Number.POSITIVE_INFINITY;

  /** Sees the stack pointer before every instruction. */
  function watchStack({ core }: Chip): void {
    const execute = core.executeInstruction.bind(core);
    core.executeInstruction = () => {
      if (core.SP < lowestStack && core.SP < BOOT_ROM_STACK) lowestStack = core.SP;
      return execute();
    };
  }

  beforeAll(() => {
    simulated = spendEvening(new EveningBench(new SimulatedBoard()));
    board = new EmulatedBoard({ image: buildImage(), powered: false });
    board.onStart = watchStack;
    board.restorePower();
    emulated = spendEvening(new EveningBench(board));
  }, 120_000);

  test('shows what the simulated board shows', () => {
    expect(emulated.panels).toEqual(simulated.panels);
  });

  test('gives the light that the simulated board gives: what a foot ends to a millisecond, all else to 2 us', () => {
    const [focusUs, cutUs, restUs, ...timed] = emulated.pulsesUs;
    const [plannedFocusUs, plannedCutUs, plannedRestUs, ...planned] = simulated.pulsesUs;
    expect(Math.abs(focusUs! - plannedFocusUs!)).toBeLessThan(FOOT_US);
    expect(Math.abs(cutUs! - plannedCutUs!)).toBeLessThan(FOOT_US);
    expect(Math.abs(cutUs! + restUs! - plannedCutUs! - plannedRestUs!)).toBeLessThanOrEqual(2 * ALLOWED_US);
    expect(timed).toHaveLength(planned.length);
    timed.forEach((us, index) => {
      expect(Math.abs(us - planned[index]!)).toBeLessThanOrEqual(ALLOWED_US);
    });
  });

  test('logs what the simulated board logs, light that a foot ended to a millisecond', () => {
    expect(emulated.log.map(withoutLight)).toEqual(simulated.log.map(withoutLight));
    for (const field of ['onMs', 'doseMs'])
      emulated.log.forEach((entry, index) => {
        const told = Number(entry[field] ?? 0);
        expect(Math.abs(told - Number(simulated.log[index]![field] ?? 0))).toBeLessThanOrEqual(1);
      });
  });

  test('never goes deeper into the stack than the report of the image says', () => {
    const { report, symbols } = buildImage();
    const deepestBytes = symbols.get('image_stack_top')! - lowestStack;
    expect(deepestBytes).toBeGreaterThan(100);
    expect(deepestBytes).toBeLessThanOrEqual(report.stackDeepestBytes);
  });

  test('asks nothing of the parts that a real one would not do', () => {
    expect(board.mistakes).toEqual([]);
    expect(board.watchdogResets).toEqual([]);
  });
});
