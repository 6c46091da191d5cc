import { InvalidRequestError } from '../../../host/board/errors.js';
import { askTheHand } from '../../../host/board/flash/ask-the-hand.js';
import type { Board } from '../../../host/board/link/board.js';
import type { OpenBoardOptions } from '../../../host/board/link/open-board.js';
import { type Clock, pause } from '../../../host/clock.js';
import { TreadleError } from '../../../host/errors.js';
import type { BathTimes, TemperatureTime } from '../../../host/recipe/baths/bath.js';
import { clockRangeMs } from '../../../shared-protocol/index.js';
import type { Random } from '../../setup/random.js';
import type { RecipeFile } from './recipe-file.js';
import type { RecipeShelf } from './recipe-shelf.js';
import type { DiskOfProgram } from './world-archive.js';

const RETRY_MS = 400;
const IDLE_MS = 800;

/** What a program does; what stands here more often is done more often. */
const jobs = [
  ...([
    'collect',
    'collect',
    'collect',
    'send',
    'send',
    'remove',
    'choose a recipe',
    'choose a recipe',
  ] as const),
  ...(['choose other work', 'set a strip', 'set the baths', 'change a setting'] as const),
  ...(['save a recipe', 'set the time', 'list recipes', 'look at the line', 'bring new firmware'] as const),
];
type Job = (typeof jobs)[number] | 'lens check off';
const otherWork = [
  'strip',
  'bracket',
  'process',
  'lamp-test',
  'safelight-test',
  'stray-light-test',
  'plain',
  'clock',
] as const;

/** What came of the jobs that the program did, for the report of a run. */
export interface Work {
  done: number;
  failed: number;
  refused: number;
  /** Times that the board left for new firmware and came back. */
  updated: number;
}

export interface LaptopSetup {
  readonly clock: Clock;
  readonly random: Random;
  readonly open: (options: OpenBoardOptions) => Promise<Board>;
  readonly disk: DiskOfProgram;
  readonly shelf: RecipeShelf;
  readonly recipeFile: RecipeFile;
  readonly work: Work;
  /** The hand at the knob, when the board asks it for new firmware; without one that is never asked for. */
  readonly allow?: () => void;
  /** Whether it begins by making work for the pedal ready. */
  readonly prepares: boolean;
}

/** One run of a program: it connects, does this and that, and connects again whenever the board is lost. */
export class LaptopAtWork {
  /** What no user's mistake and no fault explains. */
  blunder: unknown;
  readonly #setup: LaptopSetup;
  #stopped = false;
  /** What it does before it does this and that. */
  readonly #first: Job[];

  constructor(setup: LaptopSetup) {
    this.#setup = setup;
    const work = setup.random.pick(['choose a recipe', 'choose other work'] as const);
    this.#first = setup.prepares ? ['lens check off', 'send', 'set a strip', work] : [];
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
    const { clock, open, random } = this.#setup;
    while (!this.#stopped) {
      try {
        const board = await open({ clock, draw: random.below.bind(random) });
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
    const { random, shelf, disk, recipeFile } = this.#setup;
    switch (this.#first.shift() ?? random.pick(jobs)) {
      case 'lens check off':
        return board.setSetting('lens-check', 0);
      case 'collect':
        return disk.collect(board);
      case 'send':
        return shelf.push(board);
      case 'remove':
        return shelf.drop(board);
      case 'choose a recipe':
        return board.choose('recipe', shelf.likelyName());
      case 'choose other work':
        return board.choose(random.pick(otherWork));
      case 'set a strip':
        return board.setStrip(this.#drawStrip());
      case 'set the baths':
        await board.setBaths(this.#drawBaths());
        return board.setBathTimes(this.#drawBathTimes());
      case 'change a setting':
        return board.setSetting(random.pick(['lens-check', 'bath-follows'] as const), random.below(2));
      case 'save a recipe':
        return recipeFile.save(shelf.fileText());
      case 'set the time':
        return this.#setTime(board);
      case 'list recipes':
        return board.listRecipes();
      case 'bring new firmware':
        return this.#setup.allow && askTheHand(board, { onAsked: this.#setup.allow });
      case 'look at the line':
        return board.counters();
    }
  }

  /** A time that no board takes is told in words, and nothing is sent. */
  async #setTime(board: Board): Promise<void> {
    const epochMs = this.#setup.clock.epochMs();
    const { min, max } = clockRangeMs;
    try {
      await board.setClock();
    } catch (error) {
      const isRefused = error instanceof InvalidRequestError && /clock is not set/.test(error.message);
      if (isRefused === (epochMs >= min && epochMs <= max)) throw new Error(`told of ${epochMs}: ${error}`);
      throw error;
    }
    if (epochMs < min || epochMs > max) throw new Error(`the board was told ${epochMs}`);
  }

  #drawStrip(): Parameters<Board['setStrip']>[0] {
    const { random } = this.#setup;
    return {
      firstMs: random.between(200, 900),
      stepStops120: random.pick([0, 40, 60]),
      stepMs: 300,
      patches: random.between(2, 5),
      cover: random.pick(['cumulative', 'separate'] as const),
      filter: random.pick(['', '2', 'Y130 M45']),
    };
  }

  /** None, or of the first bath at two temperatures or three. */
  #drawBathTimes(): TemperatureTime[] {
    const { random } = this.#setup;
    return Array.from({ length: random.pick([0, 2, 3]) }, (_, index) => ({
      ...{ label: 'bath 1', trayC10: 180 + 20 * index, resinCoatedSeconds: 5 - index, fibreSeconds: 6 },
    }));
  }

  #drawBaths(): BathTimes[] {
    const { random } = this.#setup;
    return Array.from({ length: random.between(1, 3) }, (_, index) => ({
      label: `bath ${index + 1}`,
      resinCoatedSeconds: random.between(1, 4),
      fibreSeconds: 5,
      drainSeconds: random.below(2),
      agitationSeconds: random.below(3),
      limitCm2: random.pick([0, 600]),
    }));
  }
}
