import assert from 'node:assert/strict';
import { setTimeout } from 'node:timers/promises';
import { limits } from '../../shared-protocol/limits.js';
import { BootDisk } from './boot-disk.js';
import type { Laptop } from './laptop.js';
import { MassStorage } from './mass-storage.js';

const HAND_MS = 200;
/** From the last block to the start of what was written; the boot ROM takes its time for the answer to the driver. */
const LEAVES_MS = 300;
/** A hold, also for a chip that loses time. */
const HELD_MS = 1500;
const MOST_HOLDS = 6;
const ERASED = 0xff;
const ARCHIVE = 'prints.sqlite';

/** `treadle flash` with Linux's own drivers for drives and file systems; a hand at the knob allows it. */
export async function tellOfNewFirmware(laptop: Laptop): Promise<void> {
  const { board } = laptop.board;
  const image = board.image.bytes;
  const storageAt = board.flash.bytes.length - limits.storageBytes;
  let stored: Uint8Array = new Uint8Array();
  laptop.tell('new firmware');
  await comeToRest(laptop);
  board.onDrive = (drive) => {
    laptop.tell('the board has become the drive of its boot ROM');
    stored = Uint8Array.from(board.flash.bytes.subarray(storageAt));
    // Nothing of the old image is left, so that all of the new one must come.
    board.flash.bytes.fill(0, 0, image.length);
    const disk = new BootDisk(drive);
    disk.onWhole = () =>
      void setTimeout(LEAVES_MS).then(() => {
        laptop.tell('the drive leaves, and the board starts with what was written');
        laptop.cable.offerDrive(undefined);
        board.leaveDrive();
      });
    laptop.cable.offerDrive(new MassStorage(disk));
  };
  const hand = setInterval(() => {
    if (!board.panel[1]!.startsWith('New firmware?')) return;
    clearInterval(hand);
    board.knobTurn(3);
  }, HAND_MS);
  try {
    const said = await laptop.run(`treadle flash --archive ${ARCHIVE}`);
    assert.match(said, /^Board [0-9a-f]{16} is back with version /m);
  } finally {
    clearInterval(hand);
  }
  assert.ok(
    Buffer.from(board.flash.bytes.subarray(0, image.length)).equals(image),
    'the image, byte for byte',
  );
  for (const line of laptop.kernelWordsOf(/usb-storage|\bsd[a-z]\b/)) laptop.tell(`kernel: ${line}`);
  assert.match(await laptop.run('treadle recipes'), /boathouse/);
  const now = board.flash.bytes.subarray(storageAt);
  assert.ok(
    stored.every((byte, at) => byte === now[at] || byte === ERASED),
    'what was stored is there still, and more was written behind it',
  );
  laptop.tell('the flash has the image byte for byte, and all that was stored before');
}

/** Whatever a foot began before, holding the pedal leads out of it. */
async function comeToRest(laptop: Laptop): Promise<void> {
  const { board } = laptop.board;
  for (let holds = 0; holds < MOST_HOLDS && !/Hold:? focus/.test(board.panel[0]!); holds++) {
    board.pedal(true);
    await setTimeout(HELD_MS);
    board.pedal(false);
    await setTimeout(HELD_MS);
  }
}
