import { createHash } from 'node:crypto';
import { lstatSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/**
 * A note beside a port that is kept open for long: systems say that a port is busy, and not by whom. It is believed while
 * its process lives.
 */
export function notePort(path: string): void {
  forgetPort(path);
  try {
    writeFileSync(noteOf(path), `${process.pid}`, { flag: 'wx', mode: 0o600 });
  } catch {
    // Without it only the words of a refusal are less exact.
  }
}

export function forgetPort(path: string): void {
  try {
    rmSync(noteOf(path), { force: true });
  } catch {
    // Somebody else's, which is then told as it is.
  }
}

/** Whether a desk that runs has this port. */
export function isNoted(path: string): boolean {
  try {
    const note = noteOf(path);
    // Others may write to that folder too: a pipe there would be waited for without end.
    if (!lstatSync(note).isFile()) return false;
    const pid = Number(readFileSync(note, 'utf8'));
    return Number.isInteger(pid) && pid > 0 && process.kill(pid, 0);
  } catch {
    return false;
  }
}

function noteOf(path: string): string {
  return join(tmpdir(), `treadle-port-${createHash('sha256').update(path).digest('hex').slice(0, 16)}`);
}
