import type { FileHandle } from 'node:fs/promises';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chip } from '../../../../host/board/flash/chip.js';
import { blockBytes, readFirmwareImage } from '../../../../host/board/flash/firmware-image.js';
import { DriveWriteError } from '../../../../host/board/flash/flash-errors.js';
import { type DriveDisk, writeToDrive } from '../../../../host/board/flash/write-to-drive.js';
import { BootDrive } from '../../../firmware/board/rig/boot-drive.js';
import { NorFlash } from '../../../firmware/board/rig/nor-flash.js';
import { anImage, anImageFile } from './an-image.js';

const BYTES = 20_000;
const image = readFirmwareImage(anImageFile(anImage(BYTES)));
const blocks = image.file.length / blockBytes;

function trouble(code: string): NodeJS.ErrnoException {
  return Object.assign(new Error(`${code}: as the system has it`), { code });
}

interface Faults {
  readonly open?: string;
  /** This write, from 0, fails so, and with it everything after. */
  readonly write?: readonly [at: number, code: string];
  /** The drive was pulled out after so many blocks that the board had taken. */
  readonly pulledAfter?: number;
  readonly sync?: string;
  readonly close?: string;
}

/** A board's drive whose system hands over at once what is written, and fails as it is told. */
function driveOf(flash: NorFlash, faults: Faults = {}): { disk: DriveDisk; isWhole: () => boolean } {
  const drive = new BootDrive(flash);
  let whole = false;
  let taken = 0;
  let writes = 0;
  const fail = (code: string | undefined) => {
    if (code !== undefined) throw trouble(code);
  };
  const handle = {
    async write(piece: Uint8Array) {
      if (faults.write !== undefined && writes++ >= faults.write[0]) fail(faults.write[1]);
      for (let at = 0; at < piece.length; at += blockBytes) {
        if (taken++ === faults.pulledAfter) fail('EIO');
        whole = drive.take(piece.subarray(at, at + blockBytes)) || whole;
      }
      return { bytesWritten: piece.length };
    },
    sync: async () => fail(faults.sync),
    close: async () => fail(faults.close),
  };
  const open = async () => {
    fail(faults.open);
    return handle as unknown as FileHandle;
  };
  return { disk: { open } as unknown as DriveDisk, isWhole: () => whole };
}

async function failureOf(faults: Faults): Promise<DriveWriteError> {
  const { disk } = driveOf(new NorFlash(), faults);
  const error = await writeToDrive('/drive', image, { disk }).catch((thrown: unknown) => thrown);
  expect(error).toBeInstanceOf(DriveWriteError);
  return error as DriveWriteError;
}

describe('an image on its way to the drive', () => {
  it('is written whole, and how far it came is told', async () => {
    const told: number[] = [];
    const { disk, isWhole } = driveOf(new NorFlash());
    await writeToDrive('/drive', image, { disk, onProgress: (written) => told.push(written) });
    expect(isWhole()).toBe(true);
    expect(told.at(-1)).toBe(image.file.length);
    expect(told).toEqual([...told].sort((one, other) => one - other));
  });

  it.each(['EIO', 'ENODEV', 'ENXIO'])(
    'is written when the board starts with its last byte (%s)',
    async (code) => {
      for (const faults of [{ sync: code }, { close: code }, { sync: code, close: code }]) {
        const { disk, isWhole } = driveOf(new NorFlash(), faults);
        await writeToDrive('/drive', image, { disk });
        expect(isWhole()).toBe(true);
      }
    },
  );

  it('says what to do when the drive went away before', async () => {
    const error = await failureOf({ write: [2, 'EIO'] });
    expect(error.exitCode).toBe(3);
    expect(error.message).toContain(`when 8192 of ${image.file.length} bytes were written`);
    expect(error.message).toMatch(
      /cannot be harmed.*hold its boot button.*--boot-button.*log and the recipes/s,
    );
  });

  it('says what is wrong with a drive that takes nothing', async () => {
    expect((await failureOf({ open: 'EROFS' })).message).toMatch(/can only be read.*Nothing was written/);
    expect((await failureOf({ open: 'EACCES' })).exitCode).toBe(2);
    expect((await failureOf({ open: 'ENOENT' })).message).toContain('went away when 0 of');
    const full = await failureOf({ write: [1, 'ENOSPC'] });
    expect(full.message).toMatch(/is full, which a board never is.*hold its boot button/s);
    // Full or failing after the last byte is no board that starts.
    expect((await failureOf({ sync: 'ENOSPC' })).exitCode).toBe(1);
  });

  it('pulled out after any block, is whole after the next try, and the storage is as it was', async () => {
    const storageByte = (at: number) => (at * 7) % 256;
    await fc.assert(
      fc.asyncProperty(fc.nat(blocks - 1), async (pulledAfter) => {
        const flash = new NorFlash();
        for (let at = chip.storageAt; at < chip.storageAt + 512; at++) flash.bytes[at] = storageByte(at);
        const { disk } = driveOf(flash, { pulledAfter });
        await expect(writeToDrive('/drive', image, { disk })).rejects.toThrow(DriveWriteError);
        const again = driveOf(flash);
        await writeToDrive('/drive', image, { disk: again.disk });
        expect(again.isWhole()).toBe(true);
        expect(Buffer.compare(flash.bytes.subarray(0, BYTES), anImage(BYTES))).toBe(0);
        for (let at = chip.storageAt; at < chip.storageAt + 512; at++)
          expect(flash.bytes[at]).toBe(storageByte(at));
      }),
      { seed: 1, numRuns: blocks },
    );
  });
});
