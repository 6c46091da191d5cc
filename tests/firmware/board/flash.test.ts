import { describe, expect, test } from 'vitest';
import { limits } from '../../../shared-protocol/limits.js';
import { flashBusyUs, flashBytes } from './rig/nor-flash.js';
import { lightsUs, ProbeBoard, type Said } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';

const storageAt = flashBytes - limits.storageBytes;
const of = (said: Said[], letter: string) => said.filter((one) => one.letter === letter);
const doneOk = (said: Said[]) => of(said, 'f').map(({ number }) => number);

describe.runIf(boardTestsRun)('the flash on the chip', () => {
  test('programs a page and reads it back, at the end of the chip', () => {
    const board = new ProbeBoard();
    expect(doneOk(board.tell('512p'))).toEqual([1]);
    const page = [...board.flash.bytes.subarray(storageAt + 512, storageAt + 768)];
    expect(page).toEqual(Array.from({ length: 256 }, (_, at) => (at + 2) & 0xff));
    expect(of(board.tell('512G'), 'G')[0]!.number).toBe(0x0504_0302);
    expect(board.mistakes).toEqual([]);
  });

  test('erases a sector, in slices when bytes press', () => {
    const board = new ProbeBoard();
    board.tell('4096p');
    expect(doneOk(board.tell('4096e', 200_000))).toEqual([1]);
    expect(
      board.flash.bytes.subarray(storageAt + 4096, storageAt + 8192).every((byte) => byte === 0xff),
    ).toBe(true);
    expect(board.flash.erases[(storageAt + 4096) / 4096]).toBe(1);
  });

  test('tells when what was programmed does not read back', () => {
    const board = new ProbeBoard();
    expect(doneOk(board.tell('1024p'))).toEqual([1]);
    expect(doneOk(board.tell('1024p'))).toEqual([1]);
    board.flash.bytes[storageAt + 1024] = 0;
    expect(doneOk(board.tell('1024p'))).toEqual([0]);
  });

  test.for(['100p', '5e', '1572864p', '1572864e'])(
    'refuses %s, which is no page or sector of the region',
    (command) => {
      const board = new ProbeBoard();
      expect(doneOk(board.tell(command))).toEqual([0]);
      expect(board.flash.operations).toBe(0);
    },
  );

  test('refuses while the lamp is on, and the exposure is as long as asked', () => {
    const board = new ProbeBoard();
    board.tell('100000x');
    board.pedal(true);
    board.advanceUs(10_000);
    expect(doneOk(board.tell('512p0e'))).toEqual([0, 0]);
    board.advanceUs(200_000);
    expect(board.flash.operations).toBe(0);
    expect(Math.abs(lightsUs(board.lampEdges)[0]! - 100_000)).toBeLessThanOrEqual(2);
  });

  test('knows the chip by its own number', () => {
    const board = new ProbeBoard();
    expect(of(board.tell('I'), 'I')[0]!.number >>> 0).toBe(0x5238_61e6);
  });

  test.for([
    ['a page', '512p', flashBusyUs.programLongest],
    ['a sector', '0e', flashBusyUs.sectorEraseLongest],
  ] as const)(
    'makes way for the pedal within a millisecond while %s takes as long as the data sheet allows',
    ([, command, busyUs]) => {
      const board = new ProbeBoard();
      board.flash.busyUs = { program: busyUs, sectorErase: busyUs };
      board.tell('30000x');
      board.port.write(command);
      board.advanceUs(command.length * 87 + 1000);
      expect(board.flash.busy).toBe(true);
      const pressedUs = board.nowUs;
      board.pressFor(5000);
      board.advanceUs(busyUs + 200_000);
      expect(board.lampEdges[0]!.atUs - pressedUs).toBeLessThan(1000);
      expect(Math.abs(lightsUs(board.lampEdges)[0]! - 30_000)).toBeLessThanOrEqual(2);
      expect(doneOk(board.heard())).toEqual([1]);
      expect(board.mistakes).toEqual([]);
    },
  );

  test('waits for a chip that does not know how to suspend', () => {
    const board = new ProbeBoard();
    board.flash.knowsSuspend = false;
    board.tell('30000x');
    board.port.write('0e');
    board.advanceUs(2000);
    board.pressFor(5000);
    board.advanceUs(300_000);
    expect(Math.abs(lightsUs(board.lampEdges)[0]! - 30_000)).toBeLessThanOrEqual(2);
    expect(doneOk(board.heard())).toEqual([1]);
    expect(board.watchdogResets).toEqual([]);
    expect(board.mistakes).toEqual([]);
  });

  test('goes on with a suspended erase only when the lamp is off', () => {
    const board = new ProbeBoard();
    board.tell('400000x');
    board.port.write('0e');
    board.advanceUs(5000);
    board.pressFor(1000);
    board.advanceUs(200_000);
    expect(board.lampOn).toBe(true);
    expect(board.flash.suspended).toBe(true);
    board.advanceUs(400_000);
    expect(board.flash.suspended).toBe(false);
    expect(doneOk(board.heard())).toEqual([1]);
  });

  test('finishes after a reset what was suspended before it', () => {
    const board = new ProbeBoard();
    board.tell('400000x');
    board.port.write('0e');
    board.advanceUs(5000);
    board.pressFor(1000);
    board.advanceUs(10_000);
    expect(board.flash.suspended).toBe(true);
    board.reset('reset-pin');
    board.advanceUs(300_000);
    expect(board.flash.suspended).toBe(false);
    expect(doneOk(board.tell('0p'))).toEqual([1]);
    expect(board.mistakes).toEqual([]);
  });

  test('a chip that no longer answers ends in a start that says so, with the lamp off', () => {
    const board = new ProbeBoard();
    board.flash.stuck = true;
    board.port.write('512p');
    board.advanceUs(100_000);
    expect(board.watchdogResets).toHaveLength(1);
    board.flash.stuck = false;
    board.advanceUs(200_000);
    expect(of(board.heard(), 'B').at(-1)?.number).toBe(5000);
    expect(board.lampEdges).toEqual([]);
  });
});
