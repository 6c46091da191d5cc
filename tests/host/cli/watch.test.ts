import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { afterEach, describe, expect, it } from 'vitest';
import { offerPort } from '../../../host/board/sim/pty.js';
import { unsafeCharacters } from '../../../host/unsafe-characters.js';
import { ScriptedPeer, sealed } from '../board/link/scripted-peer.js';
import { treadlePath, treadleUntil } from './treadle.js';

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

const AT_ONCE = 20;

/** A board at a port that tells so many events in a burst once it is watched; then it is quiet. */
async function talkativeBoard(events: number) {
  const peer = new ScriptedPeer();
  let told = 0;
  let timer: NodeJS.Timeout | undefined;
  peer.answer = (message) => {
    if (message.type === 'watch' && message.on)
      timer ??= setInterval(() => {
        for (let at = 0; at < AT_ONCE && told < events; at++)
          peer.tell({ type: 'lamp', uptimeMs: told++, on: true, onUs: 0 });
      }, 1);
    if (message.type === 'watch' && !message.on) clearInterval(timer);
    return undefined;
  };
  const port = await offerPort(peer.laptop);
  undo.push(
    () => clearInterval(timer),
    () => port.close(),
  );
  /** Settles when so many events were told, or when the program that they are told to is gone. */
  const hasTold = async (events: number, to: ChildProcess) => {
    while (told < events && to.exitCode === null && to.signalCode === null)
      await new Promise((resolve) => setTimeout(resolve, 5));
    expect(told).toBeGreaterThanOrEqual(events);
  };
  return { path: port.path, hasTold };
}

function residentBytes(pid: number): number {
  return Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))![1]) * 1024;
}

describe.skipIf(process.platform !== 'linux')('watch with a reader that has stopped reading', () => {
  it.each(['SIGINT', 'SIGTERM'] as const)('keeps its size, and is ended by %s', async (signal) => {
    const board = await talkativeBoard(30_000);
    // A shell's pipe whose other end sleeps: nothing of what is printed is ever taken.
    const shell = spawn(
      'bash',
      [
        '-c',
        `exec 3> >(exec sleep 60 >/dev/null 2>&1); echo $!; exec "$0" "$@" >&3`,
        process.execPath,
        treadlePath,
      ].concat(['watch', '--json', '--port', board.path]),
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    let said = '';
    shell.stdout.setEncoding('utf8').on('data', (text: string) => {
      said += text;
    });
    undo.push(() => /\d+/.test(said) && process.kill(Number(said)));
    const ended = once(shell, 'exit');
    await board.hasTold(3000, shell);
    const before = residentBytes(shell.pid!);
    await board.hasTold(30_000, shell);
    expect(residentBytes(shell.pid!) - before).toBeLessThan(40e6);
    shell.kill(signal);
    expect(await ended).toEqual([0, null]);
  });
});

describe('watch with a reader that is slow', () => {
  it('tells how many events it left out', async () => {
    const board = await talkativeBoard(30_000);
    const child = spawn(process.execPath, [treadlePath, 'watch', '--json', '--port', board.path]);
    await board.hasTold(30_000, child);
    let dropped = 0;
    let events = 0;
    let text = '';
    child.stdout.setEncoding('utf8').on('data', (more: string) => {
      const lines = (text + more).split('\n');
      text = lines.pop()!;
      for (const line of lines) {
        const { event, count } = JSON.parse(line) as { event: string; count?: number };
        if (event === 'dropped') dropped += count!;
        else events++;
      }
      if (dropped > 0) child.kill('SIGINT');
    });
    await once(child, 'close');
    expect(dropped).toBeGreaterThan(1000);
    expect(events).toBeGreaterThan(100);
  });
});

describe.skipIf(process.platform === 'win32')('watch of a board that would steer the terminal', () => {
  /** Rows as they stand on the line: whatever JSON can say, with a right checksum. */
  const bidi = ['\u202egnihton', 'a\u2066b', '\u200f', 'x\u2028y', '\u2029', '\ufeff'];
  const refused = ['\u001b[2J', '\u0007', '\u0085', '\u009b31m', '\ud800', 'a\udc00b'];
  const escapes = (text: string) =>
    text.replace(/[^ -~]/g, (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`);

  it.each([true, false])('shows none of it as it came (for scripts: %s)', async (json) => {
    const peer = new ScriptedPeer();
    peer.answer = (message) => {
      if (message.type === 'watch' && message.on) {
        for (const row of [...bidi, ...refused]) peer.say(sealed(`["shown",0,1,"${escapes(row)}"`));
        peer.tell({
          type: 'moved',
          uptimeMs: 1,
          state: 'ready',
          pass: 1,
          piece: 1,
          label: '\u202eyks',
          remainingMs: 1,
        });
        peer.tell({ type: 'lamp', uptimeMs: 2, on: true, onUs: 0 });
      }
      return undefined;
    };
    const port = await offerPort(peer.laptop);
    undo.push(() => port.close());
    const words = ['watch', '--port', port.path, ...(json ? ['--json'] : [])];
    const { code, out, err } = await treadleUntil(words, json ? /"lamp"/ : /lamp/);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const lines = out.trimEnd().split('\n');
    expect(lines.filter((line) => line.search(unsafeCharacters) >= 0)).toEqual([]);
    if (!json) return;
    const told = lines.map((line) => JSON.parse(line) as { event: string; text?: string; label?: string });
    expect(told.flatMap(({ text }) => text ?? [])).toEqual(bidi);
    expect(told.flatMap(({ label }) => label ?? [])).toEqual(['\u202eyks']);
  });
});
