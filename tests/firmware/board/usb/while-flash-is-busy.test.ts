import { expect, test } from 'vitest';
import { EmulatedBoard } from '../rig/emulated-board.js';
import { buildImage } from '../rig/image.js';
import { flashBusyUs } from '../rig/nor-flash.js';
import { boardTestsRun } from '../rig/requirements.js';
import type { Request } from '../rig/usb/host.js';

const SPAN_US = 3_000_000;
const descriptor = (type: number, index = 0): Request => ({
  type: 0x80,
  request: 6,
  value: (type << 8) | index,
  length: 255,
});
const everything = [
  descriptor(1),
  descriptor(2),
  descriptor(3),
  descriptor(3, 1),
  descriptor(3, 2),
  descriptor(3, 3),
];

// Code in RAM that took a constant from the flash: a laptop that asked who is there while the board wrote its log stopped the
// board. A world over USB found it; the image's report refuses such code since.
test.runIf(boardTestsRun)('a laptop may ask who is there while the board writes to its flash', () => {
  const board = new EmulatedBoard({ image: buildImage() });
  const { host } = board.usbCable;
  let busyUntilUs = 0;
  let answers = 0;
  board.flash.onOperation = ({ kind }) => {
    busyUntilUs = board.nowUs + (kind === 'erase' ? flashBusyUs.sectorErase : flashBusyUs.program);
  };
  board.usbCable.plug();
  const ask = (at: number) => {
    host.begin(host.control(everything[at % everything.length]!), ({ ended }) => {
      if (ended === 'done' && board.nowUs < busyUntilUs) answers++;
      ask(at + 1);
    });
  };
  board.advanceUs(SPAN_US / 10);
  ask(0);
  for (let presses = 0; presses < 3; presses++) {
    board.pedal(true);
    board.advanceUs(SPAN_US / 3);
    board.pedal(false);
    board.advanceUs(SPAN_US / 3);
  }
  expect(answers).toBeGreaterThan(0);
  expect(board.watchdogResets).toEqual([]);
  expect(board.mistakes).toEqual([]);
});
