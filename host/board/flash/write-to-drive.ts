import { constants } from 'node:fs';
import * as disk from 'node:fs/promises';
import { join } from 'node:path';
import { systemTrouble } from '../../files/file-access-error.js';
import type { FirmwareImage } from './firmware-image.js';
import { DriveWriteError } from './flash-errors.js';

/** What is asked of the file system, so that tests can let any step of it fail. */
export type DriveDisk = Pick<typeof disk, 'open'>;

/** So much is handed over at a time; a whole number of the file's blocks. */
const PIECE_BYTES = 4096;
/** A board's drive has neither links nor pipes: what only looks like one may not lead the bytes, or us, elsewhere. */
const WRITE_THERE =
  constants.O_WRONLY |
  constants.O_CREAT |
  constants.O_TRUNC |
  (constants.O_NOFOLLOW ?? 0) |
  (constants.O_NONBLOCK ?? 0);
/** The drive was pulled out, or the board started and took it away. */
const GONE = new Set(['EIO', 'ENODEV', 'ENXIO', 'ENOENT', 'EBADF']);

export interface DriveWriting {
  readonly onProgress?: (writtenBytes: number, ofBytes: number) => void;
  readonly disk?: DriveDisk;
}

/**
 * Writes the image to the drive in one go, as nothing but its bytes: a copy by the system would bring attributes along
 * (macOS), which the drive has no room for. A board starts as soon as it has the last block, so that a drive that goes
 * away after the last byte is as it should be, and whether all arrived is asked of the board alone.
 * @throws DriveWriteError that says how far it came and what to do
 */
export async function writeToDrive(
  folder: string,
  { file }: FirmwareImage,
  { onProgress = () => {}, disk: on = disk }: DriveWriting = {},
): Promise<void> {
  let written = 0;
  try {
    const target = await on.open(join(folder, 'treadle.uf2'), WRITE_THERE);
    try {
      while (written < file.length) {
        const piece = file.subarray(written, written + PIECE_BYTES);
        const { bytesWritten } = await target.write(piece, 0, piece.length, written);
        written += bytesWritten;
        onProgress(written, file.length);
      }
      await target.sync();
    } finally {
      await closeGone(target, written === file.length);
    }
  } catch (error) {
    if (written === file.length && isGone(error)) return;
    throw explained(folder, error, written, file.length);
  }
}

async function closeGone(target: Pick<disk.FileHandle, 'close'>, isWhole: boolean): Promise<void> {
  try {
    await target.close();
  } catch (error) {
    if (!isWhole || !isGone(error)) throw error;
  }
}

function isGone(error: unknown): boolean {
  return GONE.has((error as NodeJS.ErrnoException).code ?? '');
}

/** What brings a board back that has half an image, or none. */
export const bootButtonWords =
  "The boot program is in the chip's own ROM and cannot be harmed: take all power from the board, hold its boot button, " +
  "plug its USB cable into the laptop, let go, and run 'treadle flash --boot-button'. The log and the recipes lie above " +
  'the firmware and are as they were';

function explained(folder: string, error: unknown, written: number, whole: number): DriveWriteError {
  const trouble = systemTrouble(error);
  if (trouble === undefined) throw error;
  const code = (error as NodeJS.ErrnoException).code ?? '';
  if (isGone(error))
    return new DriveWriteError(
      `the drive ${folder} went away when ${written} of ${whole} bytes were written: the board has no whole firmware ` +
        `now. ${bootButtonWords}`,
      3,
      error,
    );
  const say =
    code === 'ENOSPC' ? 'the drive is full, which a board never is, so look whether it is one' : trouble.say;
  return new DriveWriteError(
    `cannot write to the drive ${folder}: ${say}. The board waits for firmware until it gets one whole, or its power ` +
      `anew. ${written === 0 ? 'Nothing was written' : bootButtonWords}`,
    trouble.exitCode,
    error,
  );
}
