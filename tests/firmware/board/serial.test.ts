import { describe, expect, test } from 'vitest';
import { ProbeBoard } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';
import { damage } from './rig/uart.js';

/** LinkFault numbers of the schema. */
const OVERRUN = 0;
const FRAMING = 1;
const PARITY = 2;
const BREAK = 3;
const LOST_IN_RING = 4;

function faults(board: ProbeBoard, which: number): number {
  return board.tell(`${which}f`).find(({ letter }) => letter === 'F')!.number;
}

describe.runIf(boardTestsRun)('the serial line on the chip', () => {
  test('runs at 115200 baud to a tenth of a per cent', () => {
    const board = new ProbeBoard();
    expect(Math.abs(board.chip.uart0.baud / 115_200 - 1)).toBeLessThan(0.001);
  });

  test.for([
    [FRAMING, damage.framing],
    [PARITY, damage.parity],
    [BREAK, damage.break],
  ] as const)(
    'damage of kind %i is counted and dropped, and the next good line is answered',
    ([which, error]) => {
      const board = new ProbeBoard();
      board.chip.uart0.receive(0x31, error);
      board.chip.uart0.receive(0x00, error);
      board.advanceUs(5000);
      expect(faults(board, which)).toBe(2);
      expect(board.lampEdges).toEqual([]);
      expect(board.tell('I').some(({ letter }) => letter === 'I')).toBe(true);
    },
  );

  test('an overrun of the hardware is counted', () => {
    const board = new ProbeBoard();
    for (let byte = 0; byte < 40; byte++) board.chip.uart0.receive(0x0a);
    board.chip.uart0.receive(0x0a);
    board.advanceUs(5000);
    board.chip.uart0.receive(0x0a);
    board.advanceUs(5000);
    expect(faults(board, OVERRUN)).toBe(1);
  });

  test.for([0.995, 1.005])('a computer whose clock runs at %f of ours is understood', (rate) => {
    const board = new ProbeBoard();
    board.cable.baud = 115_200 * rate;
    const lines = `${'\n'.repeat(500)}I`;
    board.port.write(lines);
    board.advanceUs(100_000);
    expect(board.heard().some(({ letter }) => letter === 'I')).toBe(true);
    expect(faults(board, OVERRUN)).toBe(0);
    expect(faults(board, LOST_IN_RING)).toBe(0);
  });

  test('two whole lines that come while the core is busy are kept', () => {
    const board = new ProbeBoard();
    board.port.write(`0e${'\n'.repeat(480)}I`);
    board.advanceUs(400_000);
    expect(board.heard().map(({ letter }) => letter)).toEqual(['f', 'I']);
    expect(faults(board, LOST_IN_RING)).toBe(0);
  });

  test('a sender that is refused is told when a line fits again, and nothing is torn', () => {
    const board = new ProbeBoard();
    board.tell('1v', 300_000);
    board.port.read();
    board.advanceUs(200_000);
    const lines = String(board.port.read()).split('\n').slice(1, -1);
    expect(lines.length).toBeGreaterThan(5);
    expect(lines.every((line) => line === '.'.repeat(239))).toBe(true);
  });

  // Whatever was sent after a refusal, and had room, once took back that there was one: a list then stopped for good.
  test('a sender that is refused is told of room also when something shorter had room meanwhile', () => {
    const board = new ProbeBoard();
    board.tell('1v', 2_000);
    for (let times = 0; times < 20; times++) {
      board.port.write('I');
      board.advanceUs(10_000);
    }
    board.port.read();
    board.advanceUs(200_000);
    expect(String(board.port.read() ?? '').length).toBeGreaterThan(1000);
  });

  test('noise lights nothing and hangs nothing', () => {
    const board = new ProbeBoard();
    board.tell('50000x');
    for (let byte = 0; byte < 256; byte++)
      board.chip.uart0.receive(byte, byte % 3 === 0 ? damage.framing : 0);
    board.advanceUs(50_000);
    expect(board.lampEdges).toEqual([]);
    expect(board.watchdogResets).toEqual([]);
  });
});
