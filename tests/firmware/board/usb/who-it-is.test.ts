import { describe, expect, test } from 'vitest';
import { ProbeBoard } from '../rig/probe-board.js';
import { boardTestsRun } from '../rig/requirements.js';

/** What a laptop takes to find a device, and a little more. */
const FOUND_US = 400_000;

describe.runIf(boardTestsRun)('a board at a USB cable', () => {
  test('says that it is a Treadle board, and which', () => {
    const board = new ProbeBoard();
    board.usbCable.plug();
    board.advanceUs(FOUND_US);
    expect(board.usbCable.found).toMatchObject({
      vendor: 0x2e8a,
      product: 0x000a,
      manufacturer: 'Treadle',
      name: 'Treadle board',
      serial: expect.stringMatching(/^[0-9a-f]{16}$/),
    });
    expect(board.mistakes).toEqual([]);
  });

  test('answers over the cable that it is asked by, and over no other', () => {
    const board = new ProbeBoard();
    const port = board.usbCable.plug();
    board.advanceUs(FOUND_US);
    port.write('I');
    board.advanceUs(20_000);
    expect(String(port.read())).toMatch(/^I /m);
    expect(board.heard()).toEqual([]);
    expect(board.mistakes).toEqual([]);
  });
});
