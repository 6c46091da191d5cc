import { describe, expect, test } from 'vitest';
import { buildImageOf } from '../rig/image.js';
import { ProbeBoard } from '../rig/probe-board.js';
import { boardTestsRun } from '../rig/requirements.js';

const FOUND_US = 500_000;
/** USB 2.0, section 7.1.5: the pull-up may be powered only while VBUS is there; 7.2.1 gives 10 s to take it away. */
const LONGEST_US = 10_000_000;
const SOON_US = 200_000;
const ANSWER_US = 30_000;

/** A board that can read VBUS at a pin, and whose firmware was told so. */
function withSense(): ProbeBoard {
  const image = buildImageOf('tests/firmware/board/probe-core.as.ts', 'image-vbus', ['--vbus-pin', '24']);
  return new ProbeBoard({ image });
}

function answers(board: ProbeBoard): boolean {
  board.usbCable.port!.write('I');
  board.advanceUs(ANSWER_US);
  return /^I /m.test(String(board.usbCable.port!.read() ?? ''));
}

describe.runIf(boardTestsRun)('a board on its own supply that can read VBUS', () => {
  test('does not pull D+ up while no laptop gives power, and is found as soon as one does', () => {
    const board = withSense();
    board.advanceUs(1_000_000);
    expect(board.chip.usb.attached).toBe(false);
    board.usbCable.plug();
    board.advanceUs(FOUND_US);
    expect(answers(board)).toBe(true);
    expect(board.mistakes).toEqual([]);
  });

  test('lets go of D+ long before it must when the laptop is switched off, and comes back with it', () => {
    const board = withSense();
    for (let times = 0; times < 3; times++) {
      board.usbCable.plug();
      board.advanceUs(FOUND_US);
      expect(answers(board)).toBe(true);
      board.usbCable.unplug();
      board.advanceUs(SOON_US);
      expect(board.chip.usb.attached).toBe(false);
    }
    expect(board.watchdogResets).toEqual([]);
    expect(board.mistakes).toEqual([]);
  });

  test('gives the word to the other cable at once', () => {
    const board = withSense();
    board.usbCable.plug();
    board.advanceUs(FOUND_US);
    expect(answers(board)).toBe(true);
    board.usbCable.unplug();
    board.advanceUs(SOON_US);
    expect(board.tell('I').map(({ letter }) => letter)).toContain('I');
  });
});

// hardware-notes/wiring.md says what to do then.
test.runIf(boardTestsRun)('a board that cannot read VBUS holds D+ up all the time', () => {
  const board = new ProbeBoard();
  board.usbCable.plug();
  board.advanceUs(FOUND_US);
  board.usbCable.unplug();
  board.advanceUs(LONGEST_US);
  expect(board.chip.usb.attached).toBe(true);
});
