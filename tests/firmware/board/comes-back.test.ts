import { describe, expect, test } from 'vitest';
import { Random } from '../../setup/random.js';
import type { EveningBench } from '../core/evening/evening-bench.js';
import type { EmulatedBoard } from './rig/emulated-board.js';
import { printWaiting } from './rig/measures.js';
import { boardTestsRun } from './rig/requirements.js';
import { damage } from './rig/uart.js';

/** WASM_RT_TRAP_UNREACHABLE of the runtime. */
const UNREACHABLE = 5;
/** FAULT_HARD of firmware/board/chip/fault.h. */
const HARD_FAULT = 16;
/** No memory, no register. */
const NOWHERE = 0x3000_0000;

/** A print that has just begun. */
function printing(): EveningBench<EmulatedBoard> {
  const bench = printWaiting();
  bench.tap();
  bench.seconds(1);
  return bench;
}

/** Makes the processor go on at a function of the image. */
function jumpTo(board: EmulatedBoard, name: string, argument = 0): void {
  const address = board.image.symbols.get(name);
  if (address === undefined) throw new Error(`the image has no ${name}`);
  goOnAt(board, address, argument);
}

function goOnAt(board: EmulatedBoard, address: number, argument = 0): void {
  const { core } = board.chip;
  core.registers[0] = argument;
  core.PC = address & ~1;
  core.waiting = false;
}

const failures: readonly [string, (board: EmulatedBoard) => void, string, number][] = [
  ['a trap in the core', (board) => jumpTo(board, 'wasm_rt_trap', UNREACHABLE), 'trap', UNREACHABLE],
  ['a jump to nowhere', (board) => goOnAt(board, NOWHERE), 'trap', HARD_FAULT],
  ['a flash that does not answer', (board) => jumpTo(board, 'stop_without_flash'), 'flash-fault', 0],
];

describe.runIf(boardTestsRun)('a print that the board itself breaks off', () => {
  test.for(failures)(
    'by %s is in the log as interrupted, with the reason, and the sheet is gone on with',
    ([, fail, cause, detail]) => {
      const bench = printing();
      expect(bench.board.lampOn).toBe(true);
      fail(bench.board);
      bench.board.chip.core.waiting = false;
      bench.board.advanceUs(300_000);
      expect(bench.board.lampOn).toBe(false);
      bench.seconds(1);
      bench.greet();
      const log = bench.log();
      expect(log.findLast(({ type }) => type === 'started')).toMatchObject({ cause, detail });
      expect(log.findLast(({ type }) => type === 'exposure')).toMatchObject({
        kind: 'base',
        outcome: 'interrupted',
      });
      bench.focusAndStopDown();
      // The sheet that it broke off is gone on with, after a question.
      for (let taps = 0; taps < 4 && !bench.panel[0]!.startsWith('Tap start'); taps++) bench.tap();
      bench.tap();
      bench.seconds(0.1);
      expect(bench.board.lampOn).toBe(true);
    },
  );
});

describe.runIf(boardTestsRun)('noise on the line of the real core', () => {
  test('lights nothing, hangs nothing, is counted, and the next good line is answered', () => {
    const bench = printWaiting();
    const { board } = bench;
    const random = new Random(3);
    const edges = board.lampEdges.length;
    const errors = [0, damage.framing, damage.parity, damage.break];
    for (let byte = 0; byte < 3000; byte++) {
      board.chip.uart0.receive(random.below(256), random.pick(errors));
      if (byte % 8 === 0) board.advanceUs(700);
    }
    board.advanceUs(100_000);
    expect(board.lampEdges).toHaveLength(edges);
    expect(board.watchdogResets).toEqual([]);
    bench.hush();
    bench.greet();
    const [counters] = bench.ask({ type: 'diagnose', id: 0 });
    if (counters?.type !== 'counters')
      throw new Error(`diagnose was answered by ${JSON.stringify(counters)}`);
    expect(counters.framingErrors).toBeGreaterThan(500);
    expect(counters.breaks).toBeGreaterThan(500);
  });
});
