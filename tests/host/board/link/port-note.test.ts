import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { forgetPort, isNoted, notePort } from '../../../../host/board/link/port-note.js';

const PORT = '/dev/ttyACM0';

describe.skipIf(process.platform === 'win32')('the note beside a port', () => {
  const before = process.env.TMPDIR;
  let folder = '';
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'treadle-note-'));
    process.env.TMPDIR = folder;
  });
  afterAll(() => {
    if (before === undefined) delete process.env.TMPDIR;
    else process.env.TMPDIR = before;
    rmSync(folder, { recursive: true });
  });

  it('says while its process lives that the port is taken, and goes with it', () => {
    notePort(PORT);
    expect(isNoted(PORT)).toBe(true);
    expect(isNoted('/dev/ttyACM1')).toBe(false);
    forgetPort(PORT);
    expect(readdirSync(folder)).toEqual([]);
  });

  it("is nobody else's to read, to change or to run", () => {
    notePort(PORT);
    const { mode } = statSync(join(folder, readdirSync(folder)[0]!));
    expect(mode & 0o077).toBe(0);
    forgetPort(PORT);
  });

  it('of a process that has ended is replaced, and one that says nothing yet is not believed', () => {
    notePort(PORT);
    const note = join(folder, readdirSync(folder)[0]!);
    // No process has that number: Linux counts to 4194304 at the most (proc(5)), macOS to 99998.
    for (const said of ['99999999', '', '0']) {
      writeFileSync(note, said);
      expect(isNoted(PORT)).toBe(false);
    }
    notePort(PORT);
    expect(isNoted(PORT)).toBe(true);
    forgetPort(PORT);
  });

  // Others may write to that folder: a command that found its port busy then waited for the pipe without end.
  it('is not waited for where a pipe lies in its place, nor believed', () => {
    notePort(PORT);
    const note = join(folder, readdirSync(folder)[0]!);
    rmSync(note);
    execFileSync('mkfifo', [note]);
    expect(isNoted(PORT)).toBe(false);
  });
});
