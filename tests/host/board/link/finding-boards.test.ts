import { readFileSync } from 'node:fs';
import { type Duplex, duplexPair } from 'node:stream';
import { describe, expect, it } from 'vitest';
import {
  BoardLostError,
  NoBoardError,
  PortBusyError,
  PortNotFoundError,
  SeveralBoardsError,
} from '../../../../host/board/errors.js';
import {
  askLikelyPorts,
  askPorts,
  openOnlyBoard,
  portOfBoard,
} from '../../../../host/board/link/find-boards.js';
import { openBoard } from '../../../../host/board/link/open-board.js';
import type { PortFacts } from '../../../../host/board/link/serial-port.js';
import { stayConnected } from '../../../../host/board/link/stay-connected.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import { projectRoot } from '../../../../shared-protocol/project.js';
import { ScriptedPeer, usualWelcome } from './scripted-peer.js';
import { collect, EPOCH_MS } from './talk.js';

const AA = '00000000000000aa';
const BB = '00000000000000bb';
const unknown = {
  manufacturer: undefined,
  serialNumber: undefined,
  vendorId: undefined,
  productId: undefined,
};

/** A computer's ports, what is at each, and which of them were opened. */
class Computer {
  readonly timeline = new Timeline();
  readonly facts: PortFacts[] = [];
  readonly opened: string[] = [];
  readonly rates: number[] = [];
  readonly #plugs = new Map<string, () => Duplex>();

  readonly options = {
    clock: timelineClock(this.timeline, EPOCH_MS),
    draw: () => 0,
    ports: {
      list: async () => this.facts,
      open: async (path: string, baudRate: number) => {
        this.opened.push(path);
        this.rates.push(baudRate);
        const plug = this.#plugs.get(path);
        if (plug === undefined) throw new PortNotFoundError(path);
        return plug();
      },
    },
  };

  port(path: string, plug: () => Duplex, facts: Partial<PortFacts> = {}): string {
    this.unplug(path);
    this.facts.push({ ...unknown, ...facts, path });
    this.#plugs.set(path, plug);
    return path;
  }

  unplug(path: string): void {
    this.facts.splice(0, this.facts.length, ...this.facts.filter((port) => port.path !== path));
    this.#plugs.delete(path);
  }

  board(path: string, boardId: string, facts: Partial<PortFacts> = {}): SimulatedBoard {
    const board = new SimulatedBoard({ timeline: this.timeline, boardId });
    this.port(path, () => board.plug(), facts);
    return board;
  }

  /** Nobody answers there. */
  silence(path: string, facts: Partial<PortFacts> = {}): string {
    return this.port(path, () => duplexPair()[0], facts);
  }

  peer(path: string, facts: Partial<PortFacts> = {}): ScriptedPeer {
    const peer = new ScriptedPeer();
    this.port(path, () => peer.laptop, facts);
    return peer;
  }

  over<Result>(work: Promise<Result>): Promise<Result> {
    return inVirtualTime(this.timeline, work);
  }

  async call(path: string, name: string): Promise<void> {
    const board = await this.over(openBoard(path, this.options));
    await this.over(board.setName(name));
    await board.close();
  }

  failure(work: Promise<unknown>): Promise<Error> {
    return this.over(work).then(
      () => expect.fail('it worked'),
      (error: Error) => error,
    );
  }
}

const own = { vendorId: '2E8A', productId: '000A' };

describe('the board among the ports of a computer', () => {
  it('is spoken to at the rate that its firmware begins with, or as somebody says', async () => {
    const source = readFileSync(`${projectRoot}/firmware/board/devices/uart_line.h`, 'utf8');
    const firmwareRate = Number(/SERIAL_BAUD (\d+)u/.exec(source)![1]);
    const computer = new Computer();
    computer.board('own', AA, own);
    for (const options of [{}, { baudRate: 9600 }])
      await (await computer.over(openBoard('own', { ...computer.options, ...options }))).close();
    expect(computer.rates).toEqual([firmwareRate, 9600]);
  });

  // Every port used to be opened, which resets some devices and disturbs others.
  it.each([
    ['its ids', own],
    ["its maker's name", { manufacturer: 'Treadle' }],
  ])('is found by %s, and no other port is opened', async (_, facts) => {
    const computer = new Computer();
    computer.board('adapter', BB, { manufacturer: 'Adapters' });
    computer.board('same maker', BB, { vendorId: own.vendorId, productId: '0001' });
    computer.board('same number', BB, { vendorId: '1234', productId: own.productId });
    computer.board('own', AA, facts);
    const asked = await computer.over(askLikelyPorts(computer.options));
    expect(asked.find(({ path }) => path === 'own')!.board).toMatchObject({ boardId: AA, name: '' });
    expect(asked.map(({ path }) => path).sort()).toEqual(['adapter', 'own', 'same maker', 'same number']);
    expect(asked.filter(({ board, trouble }) => board ?? trouble)).toHaveLength(1);
    expect(computer.opened).toEqual(['own']);
    const opened = await computer.over(openOnlyBoard(computer.options));
    expect([opened.id, opened.path]).toEqual([AA, 'own']);
    await opened.close();
  });

  it('is looked for at every port where nothing that is named like it answers', async () => {
    const computer = new Computer();
    computer.silence('named like it', { manufacturer: 'treadle' });
    computer.board('adapter', BB);
    const opened = await computer.over(openOnlyBoard(computer.options));
    expect(opened.id).toBe(BB);
    await opened.close();
  });

  it('is looked for only at the ports that are told', async () => {
    const computer = new Computer();
    computer.board('own', AA, own);
    computer.silence('told');
    const asked = await computer.over(askLikelyPorts({ ...computer.options, paths: ['told'] }));
    expect(asked.map(({ path, trouble }) => [path, trouble?.constructor])).toEqual([['told', NoBoardError]]);
    expect(computer.opened).toEqual(['told']);
  });

  it('is waited for no longer than it takes to answer, and all ports at once', async () => {
    const computer = new Computer();
    for (let at = 0; at < 5; at++) computer.silence(`silent ${at}`);
    await computer.over(askPorts(computer.options));
    expect(computer.timeline.nowUs).toBeLessThan(3_000_000);
  });

  it('does not get its time told by being found, and is let go of', async () => {
    const computer = new Computer();
    const board = computer.board('own', AA);
    await computer.over(askPorts(computer.options));
    board.advanceUs(1_000_000);
    const opened = await computer.over(openBoard('own', { ...computer.options, setClock: false }));
    const batches = await computer.over(collect(opened.collect(1)));
    expect(batches.flatMap(({ records }) => records.map(({ type }) => type))).toEqual(['started']);
    await opened.close();
    board.close();
  });

  it('of another version is found, and named by its id', async () => {
    const computer = new Computer();
    const peer = computer.peer('old');
    peer.welcome = { schemaHash: '00000000', firmwareVersion: '9.9.9' };
    const [asked] = await computer.over(askPorts(computer.options));
    expect(asked!.board).toMatchObject({ boardId: usualWelcome.boardId, name: '', firmwareVersion: '9.9.9' });
    expect(peer.types()).toEqual(['hello']);
  });

  it('is found also where it does not say how it is called', async () => {
    const computer = new Computer();
    const peer = computer.peer('one');
    peer.answer = ({ type }) =>
      type === 'name-get'
        ? [{ type: 'error', code: 'not-allowed', text: '', field: 0, low: 0, high: 0 }]
        : undefined;
    const [asked] = await computer.over(askPorts(computer.options));
    expect(asked!.board).toMatchObject({ boardId: usualWelcome.boardId, name: '' });
  });

  it('that goes away while it is asked for its name is none', async () => {
    const computer = new Computer();
    const peer = computer.peer('one');
    peer.answer = ({ type }) => {
      if (type === 'name-get') peer.vanish();
      return undefined;
    };
    const [asked] = await computer.over(askPorts(computer.options));
    expect([asked!.board, asked!.trouble?.constructor]).toEqual([undefined, BoardLostError]);
  });

  it('is not guessed when there are two: both are listed', async () => {
    const computer = new Computer();
    computer.board('one', AA);
    computer.board('other', BB);
    const error = await computer.failure(openOnlyBoard(computer.options));
    expect(error).toBeInstanceOf(SeveralBoardsError);
    expect(error).toMatchObject({ exitCode: 2 });
    for (const text of [/one +board 0+aa/, /other +board 0+bb/, /--port/])
      expect(error.message).toMatch(text);
  });

  it('is named by its printer, told from others by that, and found by it', async () => {
    const computer = new Computer();
    computer.board('one', AA);
    computer.board('other', BB);
    await computer.call('one', 'garage');
    const { options } = computer;
    expect(await computer.over(portOfBoard('Garage', options))).toBe('one');
    expect(await computer.over(portOfBoard(BB.toUpperCase(), options))).toBe('other');
    expect((await computer.failure(portOfBoard('cellar', options))).message).toBe(
      `'cellar' is no serial port, and no board is called so: there is garage (${AA}), ${BB}`,
    );
    expect((await computer.failure(openOnlyBoard(options))).message).toContain(`one  board garage (${AA})`);
    await computer.call('other', 'GARAGE');
    expect((await computer.failure(portOfBoard('garage', options))).message).toMatch(
      /^2 boards are called 'garage'; give the id of one with --port:\n.*board garage \(0+aa\)\n.*board GARAGE \(0+bb\)$/,
    );
    expect(await computer.over(portOfBoard(AA, options))).toBe('one');
  });

  it('that is not there leaves an account of every port that was asked', async () => {
    const computer = new Computer();
    computer.silence('silent');
    computer.port('held', () => {
      throw new PortBusyError('held', 'another program');
    });
    const error = await computer.failure(openOnlyBoard(computer.options));
    expect(error).toBeInstanceOf(NoBoardError);
    expect(error.message).toMatch(/^no board answered at 2 port\(s\):\n.*nothing came back.*\n.*held open/);
    expect((await computer.failure(portOfBoard('garage', computer.options))).message).toMatch(
      /no board answered$/,
    );
    for (const path of ['silent', 'held']) computer.unplug(path);
    expect((await computer.failure(openOnlyBoard(computer.options))).message).toMatch(
      /no serial port: .*plug the board in/,
    );
  });

  it('is not looked for any further when it is told to stop', async () => {
    const computer = new Computer();
    computer.silence('silent');
    const stop = new AbortController();
    computer.options.clock.after(300, () => stop.abort(new Error('enough')));
    const asked = askPorts({ ...computer.options, signal: stop.signal });
    expect((await computer.failure(asked)).message).toBe('enough');
  });
});

describe('a board that is lost at its port', () => {
  it('is found where it comes back under another name, past another that has its port now', async () => {
    const computer = new Computer();
    const board = computer.board('first', AA, own);
    computer.board('adapter', 'cccccccccccccccc');
    const paths: string[] = [];
    const first = await computer.over(openBoard('first', computer.options));
    const work = stayConnected(
      first,
      'first',
      async (current) => {
        if (paths.push(current.path) === 1) {
          computer.board('first', BB);
          computer.port('second', () => board.plug());
          board.cutPower();
          board.restorePower();
        }
        await current.setSetting('metronome', 0);
        return current.id;
      },
      computer.options,
    );
    expect(await computer.over(work)).toBe(AA);
    expect(paths).toEqual(['first', 'second']);
  });
});
