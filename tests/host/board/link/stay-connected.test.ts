import type { Duplex } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { BoardLostError } from '../../../../host/board/errors.js';
import { type StayOptions, stayConnected } from '../../../../host/board/link/stay-connected.js';
import { SimulatedBoard } from '../../../../host/board/sim/simulated-board.js';
import { CutCable, LaptopAndBoard, recipe } from './laptop.js';

/** Cables that are cut after so many lines each; the last of them lasts. */
function cables(pair: LaptopAndBoard, ...cutAfter: readonly number[]): () => Duplex {
  const left = [...cutAfter];
  return () => new CutCable(pair.board.plug(), left.shift()).laptop;
}

async function pushOver(pair: LaptopAndBoard, cable: () => Duplex, options: StayOptions = {}) {
  const opening = { clock: pair.clock, draw: () => 0, ...options };
  const seen: boolean[] = [];
  const board = await pair.open(cable());
  const work = stayConnected(
    board,
    cable,
    async (current, { restarted }) => {
      seen.push(restarted);
      await current.sendRecipe(recipe('Jetty'));
      return current.getRecipe('jetty');
    },
    opening,
  );
  return { pushed: await pair.over(work), seen };
}

describe('a board that is lost in the middle of the work', () => {
  it('is found again, and the work is done from its beginning', async () => {
    const pair = new LaptopAndBoard();
    const told: string[] = [];
    const { pushed, seen } = await pushOver(pair, cables(pair, 10, 2, 14), {
      onLost: () => told.push('lost'),
      onBack: () => told.push('back'),
    });
    expect(pushed).toEqual(recipe('Jetty'));
    expect(seen).toEqual([false, false, false]);
    expect(told).toEqual(['lost', 'back', 'lost', 'back']);
  });

  it('and started anew meanwhile, is known to have done so', async () => {
    const pair = new LaptopAndBoard();
    pair.board.advanceUs(1_000_000);
    const { seen } = await pushOver(pair, cables(pair, 10), { onLost: () => pair.board.reset('watchdog') });
    expect(seen).toEqual([false, true]);
  });

  // A laptop slept in mid-collect: its next request was refused with 'say hello first', and the command ended so.
  it('since it started anew while its port stayed open, is greeted again', async () => {
    const pair = new LaptopAndBoard();
    pair.board.advanceUs(1_000_000);
    const seen: boolean[] = [];
    const work = stayConnected(
      await pair.open(),
      () => pair.board.plug(),
      async (board, { restarted }) => {
        if (seen.push(restarted) === 1) pair.board.reset('watchdog');
        return board.listRecipes();
      },
      { clock: pair.clock, draw: () => 0 },
    );
    expect(await pair.over(work)).toEqual([]);
    expect(seen).toEqual([false, true]);
  });

  it('and does not come back, is called lost in the end', async () => {
    const pair = new LaptopAndBoard();
    const lost = pushOver(pair, cables(pair, 10), { onLost: () => pair.board.cutPower(), lookingMs: 30_000 });
    await expect(lost).rejects.toBeInstanceOf(BoardLostError);
    expect(pair.timeline.nowUs).toBeLessThan(60_000_000);
  });

  it('and is lost over and over, is not tried for ever', async () => {
    const pair = new LaptopAndBoard();
    await expect(pushOver(pair, cables(pair, ...Array(50).fill(10)))).rejects.toBeInstanceOf(BoardLostError);
  });

  it('is never taken for another board that answers in its place', async () => {
    const pair = new LaptopAndBoard();
    const stranger = new SimulatedBoard({ timeline: pair.timeline, boardId: 'ffffffffffffffff' });
    let plugs = 0;
    const cable = () =>
      plugs++ === 0 ? new CutCable(pair.board.plug(), 10).laptop : new CutCable(stranger.plug()).laptop;
    await expect(pushOver(pair, cable)).rejects.toBeInstanceOf(BoardLostError);
    const strangers = new LaptopAndBoard({ flash: stranger.flash });
    expect(await strangers.with((board) => board.listRecipes())).toEqual([]);
  });

  it('is not looked for when this program closed it', async () => {
    const pair = new LaptopAndBoard();
    const board = await pair.open();
    let plugs = 0;
    const work = stayConnected(
      board,
      () => {
        plugs++;
        return pair.board.plug();
      },
      async () => {
        await board.close();
        return board.status();
      },
      { clock: pair.clock },
    );
    await expect(pair.over(work)).rejects.toThrow(/this program closed/);
    expect(plugs).toBe(0);
  });

  it('passes on what the work itself throws, and closes the board', async () => {
    const pair = new LaptopAndBoard();
    const board = await pair.open();
    const work = stayConnected(
      board,
      () => pair.board.plug(),
      () => Promise.reject(new Error('disk full')),
    );
    await expect(pair.over(work)).rejects.toThrow('disk full');
    await expect(board.status()).rejects.toThrow(/this program closed/);
  });
});
