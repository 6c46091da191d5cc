import { describe, expect, test } from 'vitest';
import { bootChecksum } from './rig/boot-rom.js';
import { EmulatedBoard } from './rig/emulated-board.js';
import type { NorFlash } from './rig/nor-flash.js';
import { ProbeBoard, probeImage } from './rig/probe-board.js';
import { boardTestsRun } from './rig/requirements.js';

const BOOT_BLOCK_BYTES = 256;

/** A board that is switched on with its flash as `change` leaves it. */
function boardWith(change: (flash: NorFlash) => void): EmulatedBoard {
  const board = new EmulatedBoard({ image: probeImage(), powered: false });
  change(board.flash);
  board.restorePower();
  return board;
}

describe.runIf(boardTestsRun)('the boot block', () => {
  test('bears the checksum that the boot ROM asks for', () => {
    // Parameters: RP2040 datasheet section 2.8.1.3.1; check value of CRC-32/MPEG-2 over "123456789" from the
    // catalogue of parametrised CRC algorithms (G. Cook).
    expect(bootChecksum(Buffer.from('123456789'))).toBe(0x0376_e6e7);
    const block = probeImage().bytes.slice(0, BOOT_BLOCK_BYTES);
    expect(bootChecksum(block.subarray(0, 252))).toBe(new DataView(block.buffer).getUint32(252, true));
  });

  test('starts the image within 50 ms of power-up', () => {
    const board = boardWith(() => {});
    const port = board.plug();
    board.advanceUs(50_000);
    expect(String(port.read())).toMatch(/^B 0 \d+\n/);
    expect(board.mistakes).toEqual([]);
  });

  test('enables reads on four wires in a new chip, once in its life', () => {
    const first = boardWith(() => {});
    first.advanceUs(50_000);
    expect(first.flash.statusWrites).toBe(1);
    const second = new EmulatedBoard({ image: probeImage(), flash: first.flash });
    second.advanceUs(50_000);
    expect(second.flash.statusWrites).toBe(1);
  });

  test.for([0, 100, 255])('does not run if its byte %i is damaged', (at) => {
    const board = boardWith((flash) => {
      flash.bytes[at] = flash.bytes[at]! ^ 1;
    });
    const port = board.plug();
    board.advanceUs(500_000);
    expect(port.read()).toBeNull();
    expect(board.lampOn).toBe(false);
  });

  test('is waited for while the chip still erases after a reset in the middle', () => {
    const board = new ProbeBoard();
    board.port.write('0e');
    board.advanceUs(10_000);
    expect(board.flash.busy).toBe(true);
    board.reset('reset-pin');
    board.advanceUs(200_000);
    expect(board.heard().find(({ letter }) => letter === 'B')?.number).toBe(1000);
    expect(board.mistakes).toEqual([]);
  });
});
