import type { Duplex } from 'node:stream';
import { pullIntoArchive } from '../../host/archive/pull-log.js';
import { type Clock, pause } from '../../host/clock.js';
import { TreadleError } from '../../host/errors.js';
import type { Board } from '../../host/link/board.js';
import { openBoard } from '../../host/link/open-board.js';
import type { Random } from '../setup/random.js';
import type { RecipeShelf } from './recipe-shelf.js';
import type { DiskOfProgram } from './world-archive.js';

const RETRY_MS = 400;
const IDLE_MS = 800;

/** What came of the jobs that the program did, for the report of a run. */
export interface Work {
  done: number;
  failed: number;
  refused: number;
}

export interface LaptopSetup {
  readonly clock: Clock;
  readonly random: Random;
  readonly plug: () => Duplex;
  readonly disk: DiskOfProgram;
  readonly shelf: RecipeShelf;
  readonly work: Work;
}

/** One run of a program: it connects, does this and that, and connects again whenever the board is lost. */
export class LaptopAtWork {
  /** What no user's mistake and no fault explains. */
  blunder: unknown;
  readonly #setup: LaptopSetup;
  #stopped = false;

  constructor(setup: LaptopSetup) {
    this.#setup = setup;
    this.#run().catch((error) => {
      if (!this.#setup.disk.killed) this.blunder = error;
    });
  }

  /** The process is gone between two instructions: nothing that it awaits ever does anything more. */
  kill(): void {
    this.#setup.disk.killed = true;
    this.#stopped = true;
  }

  async #run(): Promise<void> {
    const { clock, plug } = this.#setup;
    while (!this.#stopped) {
      try {
        const board = await openBoard(plug(), {
          clock,
          draw: this.#setup.random.below.bind(this.#setup.random),
        });
        await this.#workWith(board);
        await board.close();
      } catch (error) {
        this.#count(error);
      }
      await pause(clock, RETRY_MS);
    }
  }

  async #workWith(board: Board): Promise<void> {
    for (let jobs = this.#setup.random.between(2, 12); jobs > 0 && !this.#stopped; jobs--) {
      try {
        await this.#job(board);
        this.#setup.work.done++;
      } catch (error) {
        this.#count(error);
        if (board.lost.aborted) return;
      }
      await pause(this.#setup.clock, this.#setup.random.below(IDLE_MS));
    }
  }

  #count(error: unknown): void {
    if (!(error instanceof TreadleError)) throw error;
    if (error.name === 'RefusedError') this.#setup.work.refused++;
    else this.#setup.work.failed++;
  }

  async #job(board: Board): Promise<unknown> {
    const { random, shelf, disk } = this.#setup;
    switch (random.below(10)) {
      case 0:
      case 1:
        return shelf.push(board);
      case 2:
        return shelf.drop(board);
      case 3:
        return board.choose('recipe', shelf.anyName());
      case 4:
        return board.setStrip({
          firstMs: random.between(200, 900),
          stepStops120: random.pick([0, 40, 60]),
          stepMs: 300,
          patches: random.between(2, 5),
          cover: random.pick(['cumulative', 'separate'] as const),
        });
      case 5:
        return board.setSetting('lens-check', random.below(3) === 0 ? 1 : 0);
      case 6:
        return board.listRecipes();
      case 7:
        return board.counters();
      default:
        return pullIntoArchive(disk, board);
    }
  }
}
