import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { PortHolder } from '../../../../host/board/link/link-options.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { holderOf, notePort } from '../../../../host/board/link/port-note.js';
import { openTrouble } from '../../../../host/board/link/serial-trouble.js';
import { theDesk } from '../../../../host/desk/server/board/board-at-desk.js';
import { Talk } from './talk.js';

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

  const collect = { program: 'treadle collect', keepsIt: false };

  it('says while its process lives who has the port, and goes with it', () => {
    const forget = notePort(PORT, collect);
    expect(holderOf(PORT)).toEqual({ ...collect, pid: process.pid });
    expect(holderOf('/dev/ttyACM1')).toBeUndefined();
    forget();
    expect(readdirSync(folder)).toEqual([]);
  });

  it('of one that does not say that it keeps the port says that it will let go of it', () => {
    const forget = notePort(PORT, { program: 'treadle collect' });
    expect(holderOf(PORT)).toEqual({ ...collect, pid: process.pid });
    forget();
  });

  // In a container the first program is the only one.
  it('of the first process of a system is believed', () => {
    const kill = vi.spyOn(process, 'kill').mockReturnValue(true);
    const forget = notePort(PORT, collect);
    writeFileSync(join(folder, readdirSync(folder)[0]!), JSON.stringify({ ...collect, pid: 1 }));
    expect(holderOf(PORT)).toEqual({ ...collect, pid: 1 });
    kill.mockRestore();
    forget();
  });

  // The simulated board's name would have kept the port of the same name from whoever has it.
  it('is only of a port of this computer', async () => {
    const talk = new Talk();
    const ports = { list: async () => [], open: async () => talk.peer.laptop };
    const opened = openBoard(PORT, { clock: talk.clock, draw: () => 1, ports, holder: collect });
    const board = await talk.over(opened);
    expect(holderOf(PORT)).toBeUndefined();
    await board.close();
  });

  it("is nobody else's to read, to change or to run", () => {
    const forget = notePort(PORT, collect);
    const { mode } = statSync(join(folder, readdirSync(folder)[0]!));
    expect(mode & 0o077).toBe(0);
    forget();
  });

  // No process has that number: Linux counts to 4194304 at the most (proc(5)), macOS to 99998.
  it.each([
    JSON.stringify({ ...collect, pid: 99_999_999 }),
    JSON.stringify({ ...collect, pid: 0 }),
    '',
    JSON.stringify({ ...collect, pid: process.pid, program: 'rm -rf /' }),
    JSON.stringify({ ...collect, pid: process.pid, program: '\u001b[2Jtreadle collect' }),
    JSON.stringify({ ...collect, pid: process.pid }).padEnd(1000),
  ])('of a process that has ended, or that no command wrote, is not believed and is replaced: %s', (said) => {
    notePort(PORT, collect);
    writeFileSync(join(folder, readdirSync(folder)[0]!), said);
    expect(holderOf(PORT)).toBeUndefined();
    const forget = notePort(PORT, collect);
    expect(holderOf(PORT)).toMatchObject(collect);
    forget();
  });

  // Others may write to that folder: a command that found its port busy then waited for the pipe without end.
  it('is not waited for where a pipe lies in its place, nor believed', () => {
    notePort(PORT, collect);
    const note = join(folder, readdirSync(folder)[0]!);
    rmSync(note);
    execFileSync('mkfifo', [note]);
    expect(holderOf(PORT)).toBeUndefined();
  });

  it('tells who finds the port busy what to do', () => {
    const busy = () =>
      openTrouble(PORT, new Error('Error Resource temporarily unavailable Cannot lock port'));
    expect(busy().message).toMatch(/fuser -v|lsof/);
    const words: [PortHolder, RegExp][] = [
      [
        collect,
        /'treadle collect' \(process \d+\)\. Let it finish, or end it with Ctrl-C .*, then run this again$/,
      ],
      [
        { program: 'treadle watch', keepsIt: true },
        /'treadle watch' \(process \d+\) keeps it until it is ended\. End it with Ctrl-C/,
      ],
      [theDesk, /^another program has .* open: the desk that runs on this computer .* the port is free$/],
    ];
    for (const [holder, told] of words) {
      const forget = notePort(PORT, holder);
      expect(busy().message).toMatch(told);
      forget();
    }
  });
});
