import type { Duplex } from 'node:stream';
import { describe, expect, it } from 'vitest';
import { BoardLostError, PortNotFoundError } from '../../../host/board/errors.js';
import type { Board } from '../../../host/board/link/board.js';
import { stayConnected } from '../../../host/board/link/stay-connected.js';
import type { Archive } from '../../../host/records/archive/archive.js';
import { collectIntoArchive } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { CutCable, LaptopAndBoard, recipe } from '../../host/board/link/laptop.js';
import { listOf } from '../../setup/list-of.js';
import { ownFolder } from './archive-folder.js';

/** From the first line after the greeting on, to beyond the last that the work needs. */
const CUTS = Array.from({ length: 24 }, (_, at) => at + 4);
const SECOND_MS = 1000;

/** A port that goes away after so many lines and is back after `goneMs`; `triedMs` are the moments it was asked for. */
class VanishingPort {
  readonly triedMs: number[] = [];
  readonly #pair: LaptopAndBoard;
  readonly #goneMs: number;
  #cable: CutCable;
  #goneSinceMs: number | undefined;

  constructor(pair: LaptopAndBoard, cutAfter: number, goneMs: number) {
    this.#pair = pair;
    this.#goneMs = goneMs;
    this.#cable = new CutCable(pair.board.plug(), cutAfter);
  }

  get first(): Duplex {
    return this.#cable.laptop;
  }

  /** As opening the port does. */
  readonly plug = (): Duplex => {
    const nowMs = this.#pair.clock.nowMs();
    this.#goneSinceMs ??= nowMs;
    this.triedMs.push(nowMs);
    if (nowMs - this.#goneSinceMs < this.#goneMs) throw new PortNotFoundError('/dev/gone');
    this.#cable = new CutCable(this.#pair.board.plug());
    return this.#cable.laptop;
  };
}

function works(archive: Archive): (board: Board) => Promise<unknown> {
  return async (board) => {
    await board.sendRecipe(recipe('Jetty'));
    await board.choose('recipe', 'jetty');
    await collectIntoArchive(archive, board);
    return board.getRecipe('jetty');
  };
}

describe('a port that vanishes in the middle of the work', () => {
  const fileOf = ownFolder();

  it.each(CUTS)('after %i lines and comes back: all of the work is done, and done once', async (cutAfter) => {
    const pair = new LaptopAndBoard();
    const port = new VanishingPort(pair, cutAfter, 3 * SECOND_MS);
    await using archive = await openArchive(fileOf(`back-${cutAfter}.sqlite`), pair.clock);
    const board = await pair.open(port.first);
    const done = stayConnected(board, port.plug, works(archive), { clock: pair.clock, draw: () => 0 });
    expect(await pair.over(done)).toEqual(recipe('Jetty'));
    const numbers = (await listOf(archive.records())).map(({ seq }) => seq);
    expect(numbers).toEqual(numbers.map((_, index) => index + 1));
    expect(await pair.with((again) => again.listRecipes())).toHaveLength(1);
  });

  it.each(CUTS)(
    'after %i lines and stays away: the work fails in words, in bounded time',
    async (cutAfter) => {
      const pair = new LaptopAndBoard();
      const port = new VanishingPort(pair, cutAfter, Number.POSITIVE_INFINITY);
      await using archive = await openArchive(fileOf(`away-${cutAfter}.sqlite`), pair.clock);
      const board = await pair.open(port.first);
      const startMs = pair.clock.nowMs();
      const done = stayConnected(board, port.plug, works(archive), { clock: pair.clock, draw: () => 0 });
      const outcome = await pair.over(done).catch((error: unknown) => error);
      if (outcome instanceof Error) {
        expect(outcome).toBeInstanceOf(BoardLostError);
        expect(outcome.message).toMatch(/was lost/);
      } else expect(outcome).toEqual(recipe('Jetty'));
      expect(pair.clock.nowMs() - startMs).toBeLessThan(20 * SECOND_MS);
    },
  );

  it('is asked for again after pauses that double, up to two seconds', async () => {
    const pair = new LaptopAndBoard();
    const port = new VanishingPort(pair, 10, 10 * SECOND_MS);
    await using archive = await openArchive(fileOf('pauses.sqlite'), pair.clock);
    const board = await pair.open(port.first);
    await pair.over(stayConnected(board, port.plug, works(archive), { clock: pair.clock, draw: () => 0 }));
    const pausesMs = port.triedMs.slice(1).map((ms, index) => ms - port.triedMs[index]!);
    expect(pausesMs.map(Math.round)).toEqual([500, 1000, 2000, 2000, 2000, 2000, 2000]);
  });
});
