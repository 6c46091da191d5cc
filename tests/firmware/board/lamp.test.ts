import { describe, expect, test } from 'vitest';
import { lightUnderLoad } from './rig/measures.js';
import { lightsUs, ProbeBoard } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';

/** What a relay's edge may be off, in microseconds. */
const ALLOWED_US = 2;

describe.runIf(boardTestsRun)('the lamp on the chip', () => {
  test.for([10_000, 100_000, 1_000_000, 20_000_000, 600_000_000])(
    'burns for %i us, to 2 us, while line and display are as busy as can be',
    (onUs) => {
      const { lightUs, board } = lightUnderLoad(onUs);
      expect(Math.abs(lightUs - onUs)).toBeLessThanOrEqual(ALLOWED_US);
      expect(board.cable.saidBytes).toBeGreaterThan(300);
      expect(board.display.written).toBeGreaterThan(0);
      expect(board.mistakes).toEqual([]);
    },
  );

  test('measures what it gave and tells the core', () => {
    const board = new ProbeBoard();
    board.tell('250000x');
    board.pressFor(5000);
    board.advanceUs(300_000);
    const ended = board.heard().find(({ letter }) => letter === 'l');
    expect(Math.abs(ended!.number - lightsUs(board.lampEdges)[0]!)).toBeLessThanOrEqual(ALLOWED_US);
  });

  test.for([1, 2, 3, 5, 10])(
    'ends even an exposure of %i us, though its alarm may be set too late',
    (onUs) => {
      const board = new ProbeBoard();
      board.tell(`${onUs}x`);
      board.pressFor(5000);
      board.advanceUs(100_000);
      expect(lightsUs(board.lampEdges)[0]).toBeLessThan(onUs + 5);
    },
  );

  test('gives no light for an exposure of 0, and says so', () => {
    const board = new ProbeBoard();
    board.tell('1x0x');
    board.pressFor(5000);
    board.advanceUs(50_000);
    expect(board.lampEdges).toEqual([]);
  });

  test('goes out at once when it is told to', () => {
    const board = new ProbeBoard();
    board.tell('5000000x');
    board.pressFor(5000);
    board.advanceUs(100_000);
    board.knobPush(true);
    board.advanceUs(1000);
    expect(board.lampOn).toBe(false);
    expect(lightsUs(board.lampEdges)[0]).toBeLessThan(106_000);
  });

  test('goes out by the second alarm when the first does not come, and the board says so', () => {
    const board = new ProbeBoard();
    board.chip.timer.broken = 1 << 0;
    board.tell('50000x');
    board.pressFor(5000);
    board.advanceUs(500_000);
    expect(lightsUs(board.lampEdges)[0]).toBeLessThan(56_000);
    expect(board.heard().find(({ letter }) => letter === 'B')?.number).toBe(3017);
  });

  test('is off while the pin floats: at power-up, in a reset, and before the first instruction', () => {
    const board = new ProbeBoard();
    board.tell('5000000x');
    board.pressFor(5000);
    board.advanceUs(100_000);
    board.reset('reset-pin');
    expect(board.lampOn).toBe(false);
    board.advanceUs(500_000);
    expect(lightsUs(board.lampEdges)).toHaveLength(1);
    expect(board.heard().find(({ letter }) => letter === 'B')?.number).toBe(1000);
  });
});
