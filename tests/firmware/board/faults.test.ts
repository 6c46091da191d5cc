import { describe, expect, test } from 'vitest';
import { lightsUs, ProbeBoard } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';

/** The watchdog's time (watchdog.h) and the last feed before it. */
const WATCHDOG_US = 250_000;

const fromChar = (letter: string) => letter.charCodeAt(0);

/** What the core does on its own once the lamp is on, and what the next start says: cause x 1000 + detail. */
const misdeeds: readonly [string, string, number, number][] = [
  ['trap (unreachable)', `${fromChar('t')}a`, 3005, 1000],
  ['hang', `${fromChar('h')}a`, 2000, WATCHDOG_US],
  ['division by zero', `${fromChar('d')}a`, 3003, 1000],
  ['call too deep', `${fromChar('r')}a`, 4008, 1000],
  ['buffer outside the memory', `${fromChar('b')}a`, 3019, 1000],
  ['read across the end of the memory', `${fromChar('v')}a`, 3001, 1000],
  ['write across the end of the memory', `${fromChar('w')}a`, 3001, 1000],
  ['read at an address that goes round to the beginning', `${fromChar('x')}a`, 3001, 1000],
];

describe.runIf(boardTestsRun)('a board that fails', () => {
  test.for(misdeeds)(
    'by a %s of the core puts the lamp out, comes back and says so',
    ([, command, start, withinUs]) => {
      const board = new ProbeBoard();
      board.tell(`5000000x${command}`);
      board.pressFor(5000);
      board.advanceUs(800_000);
      expect(lightsUs(board.lampEdges)[0]).toBeLessThanOrEqual(withinUs);
      expect(board.lampOn).toBe(false);
      expect(
        board
          .heard()
          .filter(({ letter }) => letter === 'B')
          .map(({ number }) => number),
      ).toEqual([start]);
      expect(board.tell('I').some(({ letter }) => letter === 'I')).toBe(true);
    },
  );

  test('not by a read of the last word of the memory', () => {
    const board = new ProbeBoard();
    expect(board.tell(`${fromChar('k')}m`)).toMatchObject([{ letter: 'k', number: 0 }]);
    expect(board.watchdogResets).toEqual([]);
  });

  test('by a hang during an exposure that is nearly over ends the exposure on time', () => {
    const board = new ProbeBoard();
    board.tell(`60000x${fromChar('h')}a`);
    board.pressFor(5000);
    board.advanceUs(600_000);
    expect(Math.abs(lightsUs(board.lampEdges)[0]! - 60_000)).toBeLessThanOrEqual(2);
    expect(board.watchdogResets).toHaveLength(1);
  });

  test('by light asked for by the serial line never lights', () => {
    const board = new ProbeBoard();
    board.tell(`${fromChar('l')}m`, 200_000);
    expect(board.lampEdges).toEqual([]);
    expect(board.watchdogResets).toHaveLength(1);
  });

  test('by a jump to nowhere puts the lamp out, comes back and says so', () => {
    const board = new ProbeBoard();
    board.tell('5000000x');
    board.pressFor(5000);
    board.advanceUs(20_000);
    board.chip.core.PC = 0x3000_0000;
    board.chip.core.waiting = false;
    board.advanceUs(500_000);
    expect(board.lampOn).toBe(false);
    expect(board.heard().find(({ letter }) => letter === 'B')?.number).toBe(3016);
  });

  test('by a stack that runs out of RAM puts the lamp out by the watchdog', () => {
    const board = new ProbeBoard();
    board.tell('5000000x');
    board.pressFor(5000);
    board.advanceUs(20_000);
    board.chip.core.SP = 0x2000_0004;
    // A function that begins by pushing registers: what it pushes lies below RAM.
    board.chip.core.PC = board.image.symbols.get('flash_run')! & ~1;
    board.chip.core.waiting = false;
    board.advanceUs(800_000);
    expect(board.lampOn).toBe(false);
    expect(lightsUs(board.lampEdges)[0]).toBeLessThanOrEqual(20_000 + 5000 + WATCHDOG_US);
  });
});
