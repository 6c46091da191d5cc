import { linkSync, readFileSync, renameSync, unlinkSync, writeFileSync } from 'node:fs';
import { StorageFileError } from './storage-file-error.js';

/** Held by this very process; a lock of our number that is not among them is another process's of long ago. */
const held = new Set<string>();

/**
 * Takes a board's flash file for one board alone: a file beside it holds the number of the process that has it. One
 * whose process is gone is taken over. Calling the answer lets go.
 * @throws StorageFileError when another board has it
 */
export function lockStorage(file: string): () => void {
  const lock = `${file}.lock`;
  const mine = `${lock}-${process.pid}-${Date.now()}`;
  writeFileSync(mine, `${process.pid}\n`, { flag: 'wx' });
  try {
    if (!gaveName(mine, lock)) {
      takeAwayStale(file, lock);
      if (!gaveName(mine, lock)) throw inUse(file, lock);
    }
  } finally {
    unlinkSync(mine);
  }
  held.add(lock);
  return () => {
    if (held.delete(lock)) unlinkSync(lock);
  };
}

/** A second name for a file is given whole or not at all, so that no lock is ever seen without its number. */
function gaveName(mine: string, lock: string): boolean {
  try {
    linkSync(mine, lock);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

/** @throws StorageFileError unless the lock's process is gone */
function takeAwayStale(file: string, lock: string): void {
  const holder = holderOf(lock);
  if (holder === undefined) return;
  if (isAlive(holder, lock)) throw inUse(file, lock, holder);
  const stale = `${lock}-stale-${process.pid}`;
  renameSync(lock, stale);
  // Somebody else may have taken it over between two of these lines: then what was moved away is theirs.
  if (holderOf(stale) !== holder) gaveName(stale, lock);
  unlinkSync(stale);
}

/** 0 where no number can be read; undefined where there is no lock any more. */
function holderOf(lock: string): number | undefined {
  try {
    const text = readFileSync(lock, 'utf8').trim();
    return /^\d{1,10}$/.test(text) ? Number(text) : 0;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
}

function isAlive(pid: number, lock: string): boolean {
  if (pid === 0) return false;
  if (pid === process.pid) return held.has(lock);
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // Somebody else's process may not be asked, and is there all the same.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

function inUse(file: string, lock: string, pid?: number): StorageFileError {
  const who =
    pid === undefined || pid === process.pid
      ? 'another simulated board'
      : `the simulated board of process ${pid}`;
  return new StorageFileError(
    file,
    `${file} is in use by ${who}: end that one, or name another file; if there is none, remove ${lock}`,
  );
}
