import { spawnSync } from 'node:child_process';
import { closeSync, constants, openSync, readSync, writeSync } from 'node:fs';

const ROOM = 1 << 16;

/**
 * Two named pipes to another program, to be read and written without giving up the turn: a board's home has to answer
 * before it returns. The other end opens both (QEMU's `pipe` devices: FILE.in, FILE.out).
 */
export class PipePair {
  readonly path: string;
  readonly #into: number;
  #outOf = -1;
  readonly #buffer = Buffer.alloc(ROOM);

  constructor(path: string) {
    this.path = path;
    spawnSync('mkfifo', [`${path}.in`, `${path}.out`]);
    // Opened for both, it does not wait for somebody at the other end.
    this.#into = openSync(`${path}.in`, 'r+');
  }

  /** Waits for the other end. What `poll`s never waits again. */
  connect(polls = false): void {
    const how = constants.O_RDONLY | (polls ? constants.O_NONBLOCK : 0);
    this.#outOf = openSync(`${this.path}.out`, how);
  }

  write(bytes: string | Uint8Array): void {
    const all = typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes;
    for (let at = 0; at < all.length; ) at += writeSync(this.#into, all, at);
  }

  /** What has come, at least a byte. */
  read(): string {
    const count = readSync(this.#outOf, this.#buffer, 0, ROOM, null);
    if (count === 0) throw new Error('QEMU has ended');
    return this.#buffer.toString('latin1', 0, count);
  }

  /** What has come, or nothing. */
  poll(): Buffer {
    try {
      const count = readSync(this.#outOf, this.#buffer, 0, ROOM, null);
      return Buffer.from(this.#buffer.subarray(0, count));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'EAGAIN') return Buffer.alloc(0);
      throw error;
    }
  }

  close(): void {
    closeSync(this.#into);
    if (this.#outOf >= 0) closeSync(this.#outOf);
  }
}
