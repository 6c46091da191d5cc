import { mkdirSync } from 'node:fs';
import { dirname } from 'node:path';
import { lockStorage } from '../../../../host/board/sim/storage-lock.js';

const WAIT_MS = 100;
const TRIES = 1200;

/**
 * Test files run side by side, and two must not build in one folder: the second waits for the first. One whose process is
 * gone is not waited for.
 */
export function withLock<Result>(name: string, work: () => Result): Result {
  mkdirSync(dirname(name), { recursive: true });
  const unlock = takeLock(name);
  try {
    return work();
  } finally {
    unlock();
  }
}

function takeLock(name: string): () => void {
  for (let tries = 0; ; tries++) {
    try {
      return lockStorage(name);
    } catch (error) {
      if (tries > TRIES) throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, WAIT_MS);
    }
  }
}
