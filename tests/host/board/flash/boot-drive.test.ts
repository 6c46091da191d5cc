import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  awaitBootDrive,
  bootDrivesAmong,
  drivesOf,
  isBootDrive,
} from '../../../../host/board/flash/boot-drive.js';
import { readFirmwareImage } from '../../../../host/board/flash/firmware-image.js';
import { BootDriveError, DriveWriteError } from '../../../../host/board/flash/flash-errors.js';
import { writeToDrive } from '../../../../host/board/flash/write-to-drive.js';
import type { Clock } from '../../../../host/clock.js';
import { bootDriveInfo } from '../../../firmware/board/rig/boot-drive.js';
import { anImage, anImageFile } from './an-image.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-drives-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

function drive(name: string, info: string | null = bootDriveInfo): string {
  const path = join(folder, name);
  mkdirSync(path);
  if (info !== null) writeFileSync(join(path, 'INFO_UF2.TXT'), info);
  return path;
}

/** A clock on which whatever is waited for comes at once. */
function hastyClock(): Clock {
  let nowMs = 0;
  return {
    nowMs: () => nowMs,
    epochMs: () => nowMs,
    after(delayMs, run) {
      const soon = setImmediate(() => {
        nowMs += delayMs;
        run();
      });
      return () => clearImmediate(soon);
    },
  };
}

async function look(drives: readonly string[], waitMs = 60_000) {
  const clock = hastyClock();
  let slow = 0;
  const search = { drives: async () => drives, clock, waitMs, onSlow: () => slow++ };
  const found = await awaitBootDrive(search).catch((error: unknown) => error as BootDriveError);
  return { found, slow, tookMs: clock.nowMs() };
}

describe("a board's drive", () => {
  it('is known by what it says of itself', async () => {
    expect(await isBootDrive(drive('RPI-RP2'))).toBe(true);
    // As older chips have it, and with the line ends of another system.
    expect(
      await isBootDrive(drive('old', bootDriveInfo.replace('v3.0', 'v2.0').replaceAll('\n', '\r\n'))),
    ).toBe(true);
    expect(await isBootDrive(drive('stick', null))).toBe(false);
    expect(await isBootDrive(drive('other', 'UF2 Bootloader\nBoard-ID: SAMD21-OTHER\n'))).toBe(false);
    expect(await isBootDrive(join(folder, 'nowhere'))).toBe(false);
  });

  it('is found among others', async () => {
    const [stick, board] = [drive('stick', null), drive('RPI-RP2')];
    expect((await look([stick, board, join(folder, 'nowhere')])).found).toBe(board);
  });

  it('is waited for, then it is said how to get one', async () => {
    const { found, slow, tookMs } = await look([drive('stick', null)]);
    expect(found).toBeInstanceOf(BootDriveError);
    expect((found as BootDriveError).exitCode).toBe(3);
    expect((found as BootDriveError).message).toMatch(/--drive.*data cable.*--boot-button/s);
    expect(slow).toBe(1);
    expect(tookMs).toBe(60_000);
  });

  it('is not guessed where there are two', async () => {
    const { found } = await look([drive('RPI-RP2'), drive('RPI-RP2-1')]);
    expect((found as BootDriveError).message).toMatch(/^2 boards wait.*RPI-RP2\n.*RPI-RP2-1/s);
    expect((found as BootDriveError).exitCode).toBe(2);
  });

  it('is looked for where each kind of system has its drives', async () => {
    expect((await drivesOf('win32')).slice(0, 2)).toEqual(['D:\\', 'E:\\']);
    expect(await drivesOf('darwin')).toEqual(expect.any(Array));
    expect(await bootDrivesAmong(await drivesOf('linux'))).toEqual(expect.any(Array));
  });
});

describe.skipIf(process.platform === 'win32')('a drive that only looks like a board', () => {
  it('is not waited for where its file is a pipe', async () => {
    const path = drive('pipe', null);
    execFileSync('mkfifo', [join(path, 'INFO_UF2.TXT')]);
    expect(await isBootDrive(path)).toBe(false);
  });

  it('leads the image to no other file by a link, and holds nobody up by a pipe', async () => {
    const image = readFirmwareImage(anImageFile(anImage(20_000)));
    const path = drive('link');
    const own = join(folder, 'archive.sqlite');
    writeFileSync(own, 'two years of prints');
    symlinkSync(own, join(path, 'treadle.uf2'));
    await expect(writeToDrive(path, image)).rejects.toThrow(DriveWriteError);
    expect(readFileSync(own, 'utf8')).toBe('two years of prints');
    rmSync(join(path, 'treadle.uf2'));
    execFileSync('mkfifo', [join(path, 'treadle.uf2')]);
    await expect(writeToDrive(path, image)).rejects.toThrow(DriveWriteError);
  });
});
