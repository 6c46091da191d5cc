import { linkSync, readFileSync, renameSync, unlinkSync, writeFileSync } from 'node:fs';

/** Held by this very process; a lock of our number that is not among them is another process's of long ago. */
const held = new Set<string>();

/** Who has a lock that could not be taken. */
export interface LockHolder {
  /** Number of its process; undefined where it has taken the lock only now. */
  readonly pid: number | undefined;
}

/**
 * Takes what a lock stands for, for one holder alone: the file `lock` has the number of the process that holds it. One
 * whose process is gone is taken over. Calling the answer lets go.
 * @throws what the system says where a file cannot be made there, or cannot have a second name
 */
export function takeLock(lock: string): (() => void) | LockHolder {
  const mine = `${lock}-${process.pid}-${Date.now()}`;
  writeFileSync(mine, `${process.pid}\n`, { flag: 'wx' });
  try {
    if (!gaveName(mine, lock)) {
      const holder = takeAwayStale(lock);
      if (holder !== undefined) return holder;
      if (!gaveName(mine, lock)) return { pid: undefined };
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

/** Takes away a lock whose process is gone. @returns its holder where it is not */
function takeAwayStale(lock: string): LockHolder | undefined {
  const pid = pidIn(lock);
  if (pid === undefined) return undefined;
  if (isAlive(pid, lock)) return { pid };
  const stale = `${lock}-stale-${process.pid}`;
  renameSync(lock, stale);
  // Somebody else may have taken it over between two of these lines: then what was moved away is theirs.
  if (pidIn(stale) !== pid) gaveName(stale, lock);
  unlinkSync(stale);
  return undefined;
}

/** 0 where no number can be read; undefined where there is no lock any more. */
function pidIn(lock: string): number | undefined {
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
