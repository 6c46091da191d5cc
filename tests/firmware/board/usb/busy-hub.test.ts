import { GPIOPinState } from 'rp2040js';
import { describe, expect, test } from 'vitest';
import type { Chip } from '../rig/chip.js';
import { pins } from '../rig/pins.js';
import { ProbeBoard } from '../rig/probe-board.js';
import { boardTestsRun } from '../rig/requirements.js';

const START_US = 120_000;
const FOUND_US = 400_000;
const ANSWER_US = 30_000;
const PIN = 15;

/** The three chips: two that must be helped out of a reset, and one of them that does not know it. */
const b1 = { revision: 1, staysInReset: true };
const b2 = { revision: 2, staysInReset: false };
const unhelped = { revision: 2, staysInReset: true };

/** A board with such a chip at a laptop, behind a hub whose other devices are talked to all the time. */
function behindBusyHub({ revision, staysInReset }: typeof b1) {
  const board = new ProbeBoard();
  const states = new Set<GPIOPinState>();
  board.onStart = (chip: Chip) => {
    chip.revision = revision;
    chip.usb.staysInReset = staysInReset;
    chip.gpio[PIN]!.addListener((state) => states.add(state));
  };
  board.reset('power');
  board.advanceUs(START_US);
  board.usbCable.plug({ isBehindBusyHub: true });
  board.advanceUs(FOUND_US);
  return { board, states };
}

function answers(board: ProbeBoard): boolean {
  board.usbCable.port!.write('I');
  board.advanceUs(ANSWER_US);
  return /^I /m.test(String(board.usbCable.port!.read() ?? ''));
}

// Erratum RP2040-E5: "Without this idle time, the USB device does not connect and will not receive any packets from the
// host, and so does not enumerate" (RP2040 datasheet, appendix B).
describe.runIf(boardTestsRun)('a board behind a hub that talks to others all the time', () => {
  test('is found, whose chip needs help out of a reset of the bus', () => {
    const { board, states } = behindBusyHub(b1);
    expect(board.usbCable.found).toMatchObject({ name: 'Treadle board' });
    expect(answers(board)).toBe(true);
    expect([...states]).not.toContain(GPIOPinState.High);
    expect([...states]).not.toContain(GPIOPinState.Low);
    expect(board.chip.gpio[PIN]).toMatchObject({ ctrl: 31, padValue: 0x56 });
    expect(board.mistakes).toEqual([]);
  });

  test('is not found where such a chip is not helped: the erratum is in the rig', () => {
    expect(() => behindBusyHub(unhelped)).toThrow('request 6 of the laptop unanswered');
  });

  test('is found, whose chip needs no help, and no pin is taken for it', () => {
    const { board, states } = behindBusyHub(b2);
    expect(board.usbCable.found).toMatchObject({ name: 'Treadle board' });
    expect(answers(board)).toBe(true);
    expect([...states]).toEqual([]);
  });

  test('is found again and again, wherever in its millisecond of help the cable is pulled', () => {
    const { board } = behindBusyHub(b1);
    const { usbCable } = board;
    for (const moment of [110_500, 111_100, 111_900, 112_400, 131_300]) {
      usbCable.plug({ isBehindBusyHub: true });
      board.advanceUs(moment);
      usbCable.unplug();
      board.advanceUs(20_000);
    }
    usbCable.plug({ isBehindBusyHub: true });
    board.advanceUs(FOUND_US);
    expect(answers(board)).toBe(true);
    expect(board.lampEdges).toEqual([]);
    expect(board.mistakes).toEqual([]);
  });

  test('leaves its pin alone in everything that is wired', () => {
    expect(Object.values(pins)).not.toContain(PIN);
  });
});
