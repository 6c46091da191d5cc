import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Flash } from '../../../../host/board/sim/flash.js';
import { heard, scriptedBoard } from './scripted-board.js';

describe('the simulated board', () => {
  it('switches the lamp off exactly when asked, and reports the measured time', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    board.advanceUs(500);
    board.pedal(true);
    expect(board.lampOn).toBe(true);
    board.advanceUs(900_000);
    board.pedal(false);
    board.advanceUs(3_000_000);
    expect(board.lampEdges).toEqual([
      { atUs: 500, on: true },
      { atUs: 1_235_067, on: false },
    ]);
    expect(heard(cable)).toEqual(['p 1 500', 'p 0 900500', 'd 0 1000000', 'l 1234567 1235067']);
    expect(board.tones.map(({ hz }) => hz)).toEqual([880, 0]);
  });

  it('answers a lamp put out early with what it gave', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    board.pedal(true);
    board.advanceUs(1000);
    cable.write('O');
    expect(board.lampOn).toBe(false);
    expect(heard(cable)).toEqual(['p 1 0', 'l 1000 1000']);
  });

  it('stops a core that asks for light while it handles the serial line', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    cable.write('L');
    expect(board.lampOn).toBe(false);
    expect(board.lampEdges).toEqual([]);
    board.advanceUs(100_000);
    expect(heard(cable)).toEqual(['B 318 0']);
  });

  it('puts the lamp out when the core traps, and starts it anew with the reason', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    board.pedal(true);
    board.advanceUs(10);
    cable.write('T');
    expect(board.lampEdges.at(-1)).toEqual({ atUs: 10, on: false });
    board.pedal(false);
    board.advanceUs(2_000_000);
    expect(heard(cable)).toEqual(['p 1 0', 'B 305 0', 'd 0 1000000']);
  });

  it('starts anew by reset and after a power cut, its clock at zero, with a pedal that is still down', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    board.advanceUs(700);
    board.pedal(true);
    board.reset('watchdog');
    expect(heard(cable)).toEqual(['p 1 700', 'B 200 0', 'p 1 0']);
    board.cutPower();
    expect(board.lampOn).toBe(false);
    board.pedal(false);
    cable.write('anything');
    board.advanceUs(5_000_000);
    expect(heard(cable)).toEqual([]);
    board.restorePower();
    expect(heard(cable)).toEqual(['B 0 0']);
  });

  it('takes a deadline back', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    cable.write('W');
    board.advanceUs(2_000_000);
    expect(heard(cable)).toEqual([]);
  });

  it('changes its flash in the time a chip takes, not while the lamp is on, and keeps it over a power cut', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    cable.write('P');
    board.advanceUs(1000);
    cable.write('R');
    expect(heard(cable)).toEqual(['f 1 400', 'R 90 1000']);
    board.pedal(true);
    cable.write('E');
    board.cutPower();
    board.restorePower();
    cable.write('R');
    expect(heard(cable)).toEqual(['p 1 1000', 'f 0 1000', 'B 0 0', 'p 1 0', 'R 90 0']);
  });

  it('loses its power inside a flash operation when the flash is told to', () => {
    const board = scriptedBoard({ flash: new Flash() });
    const cable = board.plug();
    board.flash.cutPowerAfter(0, () => false);
    cable.write('P');
    board.advanceUs(1000);
    expect(board.powered).toBe(false);
    board.restorePower();
    cable.write('R');
    expect(heard(cable)).toEqual(['B 0 0', 'R 255 0']);
  });

  it('keeps its flash in a file over the end of the program, and derives its identity from it', () => {
    const folder = mkdtempSync(join(tmpdir(), 'treadle-board-'));
    try {
      const file = join(folder, 'board.flash');
      const first = scriptedBoard({ file });
      first.plug().write('P');
      first.advanceUs(1000);
      first.close();
      const second = scriptedBoard({ file });
      const cable = second.plug();
      cable.write('R');
      expect(heard(cable)).toEqual(['R 90 0']);
      expect(second.id).toBe(first.id);
      expect(second.id).not.toBe(scriptedBoard().id);
      second.close();
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('tells the core its identity and the counters of its serial hardware', () => {
    const board = scriptedBoard({ boardId: 'c8f00ba5e1d00d01' });
    board.linkFaults.set('overrun', 7);
    const cable = board.plug();
    cable.write('IF');
    expect(heard(cable)).toEqual(['I 200 0', 'F 7 0']);
  });

  it('paces the serial line at its rate, refuses when its ring is full and tells when there is room', () => {
    const board = scriptedBoard({ baud: 115_200 });
    const cable = board.plug();
    board.advanceUs(10_000);
    expect(heard(cable)).toEqual(['B 0 0']);
    cable.write('S');
    board.advanceUs(87);
    expect(board.panel[0]).toBe('.....'.padEnd(20));
    board.advanceUs(90_000);
    const said = String(cable.read());
    expect(said.slice(0, 1000)).toBe('.'.repeat(1000));
    expect(said.slice(1000)).toMatch(/^w 0 \d+\n$/);
  });

  it('never waits for a program that does not read', () => {
    const board = scriptedBoard();
    const cable = board.plug();
    for (let round = 0; round < 100; round++) cable.write('S');
    expect(board.unreadBytes).toBeGreaterThan(0);
    expect(board.panel[0]).toBe(' '.repeat(20));
  });

  it('goes on in real time, as much faster as it is told, with exact edges all the same', async () => {
    const board = scriptedBoard({ speed: 1000 });
    try {
      const dark = new Promise((resolve) => {
        board.on('lamp', ({ on }) => {
          if (!on) resolve(undefined);
        });
      });
      board.pedal(true);
      await dark;
      const [on, off] = board.lampEdges;
      expect(off!.atUs - on!.atUs).toBe(1_234_567);
    } finally {
      board.close();
    }
  });
});
