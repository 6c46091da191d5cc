import { mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { BoardLostError, PortBusyError, PortNotFoundError } from '../../../../host/board/errors.js';
import { askPorts, openOnlyBoard } from '../../../../host/board/link/find-boards.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import { stayConnected } from '../../../../host/board/link/stay-connected.js';
import { offerPort } from '../../../../host/board/sim/pty.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { collectIntoArchive } from '../../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { listOf } from '../../../setup/list-of.js';
import { recipe } from './laptop.js';
import { ScriptedPeer } from './scripted-peer.js';

const undo: (() => unknown)[] = [];
afterEach(async () => {
  for (const step of undo.splice(0).reverse()) await step();
});

/** A simulated board in real time at a port of its own. */
async function boardAtPort(boardId: string) {
  const board = new SimulatedBoard({ speed: 1, boardId });
  const port = await offerPort(board.plug());
  undo.push(
    () => board.close(),
    () => port.close(),
  );
  return { board, port, path: port.path };
}

/** A port where somebody else's device is: `say` is what it answers to anything, or nothing. */
async function strangerAtPort(say?: string): Promise<string> {
  const peer = new ScriptedPeer();
  peer.incoming = () => {
    if (say !== undefined) peer.say(say);
    return undefined;
  };
  const port = await offerPort(peer.laptop);
  undo.push(() => port.close());
  return port.path;
}

// Windows has no pseudo-terminals; the same code meets real ports there.
describe.skipIf(process.platform === 'win32')('a board at a real serial port', () => {
  it('is opened by its path, takes a recipe and gives its log', async () => {
    const { board, path } = await boardAtPort('00000000000000aa');
    const opened = await openBoard(path);
    undo.push(() => opened.close());
    expect(opened.id).toBe(board.id);
    await opened.sendRecipe(recipe('Jetty'));
    expect(await opened.getRecipe('jetty')).toEqual(recipe('Jetty'));
    const folder = mkdtempSync(join(tmpdir(), 'treadle-port-'));
    undo.push(() => rmSync(folder, { recursive: true }));
    await using archive = await openArchive(join(folder, 'archive.sqlite'));
    expect(await collectIntoArchive(archive, opened)).toMatchObject({
      added: 2,
      holes: [],
      forgottenUptoSeq: 2,
    });
    expect((await listOf(archive.records())).map(({ type }) => type)).toEqual(['started', 'clock']);
  });

  it('can be opened again after it was closed', async () => {
    const { path } = await boardAtPort('00000000000000aa');
    for (let time = 0; time < 3; time++) {
      const opened = await openBoard(path);
      expect((await opened.status()).state).toBe('rest');
      await opened.close();
    }
  });

  it('answers one program at a time, and the second is told who may hold the port', async () => {
    const { path } = await boardAtPort('00000000000000aa');
    const first = await openBoard(path);
    undo.push(() => first.close());
    const second = await openBoard(path).catch((error: unknown) => error as Error);
    expect(second).toBeInstanceOf(PortBusyError);
    expect((second as Error).message).toMatch(/another program has .* open: another 'treadle'/);
    expect((await first.status()).state).toBe('rest');
  });

  it('that is unplugged is noticed at once, without waiting for an answer', async () => {
    const { port, path } = await boardAtPort('00000000000000aa');
    const opened = await openBoard(path, { timing: { heartbeatMs: 3_600_000 } });
    const lost = new Promise((resolve) => opened.lost.addEventListener('abort', resolve));
    port.close();
    undo.splice(1);
    await lost;
    expect(opened.lost.reason).toBeInstanceOf(BoardLostError);
    await expect(opened.status()).rejects.toThrow(/was lost/);
    await opened.close();
  });

  it('that is unplugged and plugged in again is worked with on, under the name that it has then', async () => {
    const { board, port } = await boardAtPort('00000000000000aa');
    const folder = mkdtempSync(join(tmpdir(), 'treadle-port-'));
    const path = join(folder, 'board');
    symlinkSync(port.path, path);
    undo.push(() => rmSync(folder, { recursive: true }));
    let plugs = 1;
    const pushed = await stayConnected(
      await openBoard(path),
      path,
      async (current) => {
        if (plugs === 1) port.close();
        await current.sendRecipe(recipe('Jetty'));
        return current.getRecipe('jetty');
      },
      {
        paths: [],
        onLost: async () => {
          const next = await offerPort(board.plug());
          undo.splice(1, 1, () => next.close());
          plugs++;
          rmSync(path);
          symlinkSync(next.path, path);
        },
      },
    );
    expect(pushed).toEqual(recipe('Jetty'));
    expect(plugs).toBe(2);
  });

  it('is found by asking among a silent and a chatty stranger and a port that is not there', async () => {
    const { path } = await boardAtPort('00000000000000aa');
    const paths = [await strangerAtPort(), path, await strangerAtPort('\r\nERROR\r\n'), '/dev/not-there'];
    const asked = await askPorts({ paths });
    expect(asked.map(({ board }) => board?.boardId)).toEqual([
      undefined,
      '00000000000000aa',
      undefined,
      undefined,
    ]);
    expect(asked[3]!.trouble).toBeInstanceOf(PortNotFoundError);
    const opened = await openOnlyBoard({ paths: paths.slice(0, 2) });
    expect(opened.path).toBe(path);
    await opened.close();
  });
});
