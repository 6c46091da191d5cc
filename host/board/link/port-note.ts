import { createHash } from 'node:crypto';
import { lstatSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { NotedHolder, PortHolder } from './link-options.js';

/** One that is longer was not written here. */
const MOST_BYTES = 200;
const PROGRAM = /^treadle [a-z-]+$/;

/**
 * A note beside a port that is open: systems say that a port is busy, and not by whom. It is believed while its process
 * lives. Calling the answer takes it away.
 */
export function notePort(path: string, { program, keepsIt = false }: PortHolder): () => void {
  const note = noteOf(path);
  takeAway(note);
  try {
    const text = JSON.stringify({ pid: process.pid, program, keepsIt });
    writeFileSync(note, text, { flag: 'wx', mode: 0o600 });
  } catch {
    // Without it only the words of a refusal are less exact.
  }
  return () => takeAway(note);
}

/** Which of our programs that run has this port, as far as it said so. */
export function holderOf(path: string): NotedHolder | undefined {
  try {
    const note = noteOf(path);
    // Others may write to that folder too: a pipe there would be waited for without end.
    const file = lstatSync(note);
    if (!file.isFile() || file.size > MOST_BYTES) return undefined;
    const { pid, program, keepsIt } = JSON.parse(readFileSync(note, 'utf8'));
    const isRead = Number.isInteger(pid) && pid > 0 && PROGRAM.test(program);
    return isRead && process.kill(pid, 0) ? { pid, program, keepsIt: keepsIt === true } : undefined;
  } catch {
    return undefined;
  }
}

function takeAway(note: string): void {
  try {
    rmSync(note);
  } catch {
    // There was none; or it is somebody else's, and told as it is.
  }
}

function noteOf(path: string): string {
  return join(tmpdir(), `treadle-port-${createHash('sha256').update(path).digest('hex').slice(0, 16)}`);
}
