import { constants } from 'node:fs';
import { open, readdir } from 'node:fs/promises';
import { userInfo } from 'node:os';
import { join } from 'node:path';
import { type Clock, pause, systemClock } from '../../clock.js';
import { BootDriveError } from './flash-errors.js';

/** What the boot ROM's drive says of itself (pico-bootrom-rp2040, bootrom/info_uf2.txt). */
const INFO_FILE = 'INFO_UF2.TXT';
/** A pipe of that name, on a drive that is no board's, is not waited for. */
const READ_AT_ONCE = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0);
const BOARD = /^Board-ID: RPI-RP2\s*$/m;
const MOST_INFO_BYTES = 1024;

const LOOK_MS = 250;
/** A system that mounts drives by itself has done so by now. */
const HINT_AFTER_MS = 8000;

/** Folders that are drives, by where this kind of system puts those that come and go. */
export async function drivesOf(platform: NodeJS.Platform = process.platform): Promise<string[]> {
  if (platform === 'win32') return [...'DEFGHIJKLMNOPQRSTUVWXYZ'].map((letter) => `${letter}:\\`);
  if (platform === 'darwin') return foldersIn('/Volumes');
  const places = ['/media', '/run/media', '/mnt'];
  const first = (await Promise.all(places.map(foldersIn))).flat();
  // Each person has a folder of their own there, on most systems.
  const own = first.filter((folder) => folder.endsWith(`/${userInfo().username}`));
  return [...first, ...(await Promise.all(own.map(foldersIn))).flat()];
}

async function foldersIn(place: string): Promise<string[]> {
  try {
    return (await readdir(place)).toSorted().map((name) => join(place, name));
  } catch {
    return [];
  }
}

/** Whether a board waits for new firmware there. */
export async function isBootDrive(folder: string): Promise<boolean> {
  try {
    const file = await open(join(folder, INFO_FILE), READ_AT_ONCE);
    try {
      const { buffer, bytesRead } = await file.read(Buffer.alloc(MOST_INFO_BYTES), 0, MOST_INFO_BYTES, 0);
      return BOARD.test(buffer.toString('latin1', 0, bytesRead));
    } finally {
      await file.close();
    }
  } catch {
    return false;
  }
}

/** Those of `drives` on which a board waits; two names of one folder count once. */
export async function bootDrivesAmong(drives: readonly string[]): Promise<string[]> {
  const are = await Promise.all(drives.map(isBootDrive));
  return [...new Set(drives.filter((_, at) => are[at]))];
}

export interface DriveSearch {
  /** The drive's own folder, where it was named. */
  readonly folder?: string | undefined;
  /** The drives there are just now; left out, those of this system. */
  readonly drives?: () => Promise<readonly string[]>;
  readonly clock?: Clock;
  readonly waitMs: number;
  /** Called once when it takes longer than a system needs that mounts drives by itself. */
  readonly onSlow?: () => void;
}

/** The one drive on which a board waits. @throws BootDriveError when there is none in time, or more than one. */
export async function awaitBootDrive(search: DriveSearch): Promise<string> {
  const { clock = systemClock, waitMs, onSlow = () => {} } = search;
  const startMs = clock.nowMs();
  for (let told = false; ; ) {
    const found = await findBootDrives(search);
    if (found.length > 1) throw several(found);
    if (found[0] !== undefined) return found[0];
    const sinceMs = clock.nowMs() - startMs;
    if (sinceMs >= waitMs) throw none(search.folder);
    if (!told && sinceMs >= HINT_AFTER_MS) {
      told = true;
      onSlow();
    }
    await pause(clock, LOOK_MS);
  }
}

export async function findBootDrives({ folder, drives = drivesOf }: Partial<DriveSearch>): Promise<string[]> {
  return bootDrivesAmong(folder === undefined ? await drives() : [folder]);
}

export function several(found: readonly string[]): BootDriveError {
  const list = found.map((folder) => `  ${folder}`).join('\n');
  return new BootDriveError(
    `${found.length} boards wait for new firmware, and their drives do not say which is which: leave one plugged in, ` +
      `or name its drive with --drive\n${list}`,
    2,
  );
}

function none(folder: string | undefined): BootDriveError {
  const where = folder === undefined ? 'no drive of a board has come' : `no board's drive is at ${folder}`;
  return new BootDriveError(
    `${where}, so nothing was written. If a drive named RPI-RP2 shows in your file manager, name its folder with ` +
      '--drive. If none does: use a data cable straight to the laptop, unplug the board, hold its boot button ' +
      "while you plug it in, and run 'treadle flash --boot-button'. Take the board's power away and give it back " +
      'to go on with the firmware that it has',
  );
}

/** How a drive that is plugged in is given a folder, where the system does not do it by itself. */
export function mountingWords(platform: NodeJS.Platform = process.platform): string {
  if (platform === 'darwin') return "'diskutil mount RPI-RP2' mounts it";
  if (platform === 'win32') return "give it a letter in 'Disk Management'";
  return "'udisksctl mount -b /dev/disk/by-label/RPI-RP2' mounts it; elsewhere name the folder with --drive";
}
