import { existsSync } from 'node:fs';
import type { Clock } from '../../clock.js';

const LOOK_MS = 500;

/**
 * Looks now and then whether a port's name is still there, and calls `onGone` once when it is not: a port that was
 * unplugged reads as a port where nothing comes, and only a write would find out. Calling the answer ends it.
 * Windows has no such names; there the driver tells.
 */
export function watchPort(path: string, clock: Clock, onGone: () => void): () => void {
  if (process.platform === 'win32') return () => {};
  let cancel = () => {};
  const look = () => {
    if (existsSync(path)) cancel = clock.after(LOOK_MS, look);
    else onGone();
  };
  cancel = clock.after(LOOK_MS, look);
  return () => cancel();
}
