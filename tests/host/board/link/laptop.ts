import { type Duplex, duplexPair } from 'node:stream';
import type { Board } from '../../../../host/board/link/board.js';
import { type OpenBoardOptions, openBoard } from '../../../../host/board/link/open-board.js';
import { SimulatedBoard, type SimulatedBoardOptions } from '../../../../host/board/sim/simulated-board.js';
import { Timeline } from '../../../../host/board/sim/timeline.js';
import { inVirtualTime, timelineClock } from '../../../../host/board/sim/virtual-time.js';
import type { BoardRecipe } from '../../../../host/recipe/board-recipe.js';

/** The evening of the demo, in UTC. */
export const EVENING_MS = Date.UTC(2027, 2, 5, 20, 0, 0);

/** A laptop and a simulated board with the real core, on one virtual clock. */
export class LaptopAndBoard {
  readonly timeline: Timeline;
  readonly board: SimulatedBoard;
  readonly clock;

  constructor(options: SimulatedBoardOptions = {}) {
    this.timeline = options.timeline ?? new Timeline();
    this.board = new SimulatedBoard({ ...options, timeline: this.timeline });
    this.clock = timelineClock(this.timeline, EVENING_MS);
  }

  over<Result>(work: Promise<Result>): Promise<Result> {
    return inVirtualTime(this.timeline, work);
  }

  open(stream: Duplex = this.board.plug(), options: OpenBoardOptions = {}): Promise<Board> {
    return this.over(openBoard(stream, { clock: this.clock, draw: () => 0, ...options }));
  }

  /** Opens, works, closes. */
  async with<Result>(work: (board: Board) => Promise<Result>, stream?: Duplex): Promise<Result> {
    const board = await this.open(stream);
    try {
      return await this.over(work(board));
    } finally {
      await board.close();
      // What the board still has to write is written.
      this.board.advanceUs(1_000_000);
    }
  }
}

/** The laptop's end of a cable that is cut, both ways, after so many whole lines have passed. */
export class CutCable {
  readonly laptop: Duplex;
  linesPassed = 0;
  cut = false;

  constructor(cable: Duplex, cutAfterLines = Number.POSITIVE_INFINITY) {
    const [laptop, far] = duplexPair();
    this.laptop = laptop;
    const pass = (from: Duplex, to: Duplex) => {
      let rest = '';
      from.setEncoding('latin1');
      from.on('data', (text: string) => {
        const lines = (rest + text).split('\n');
        rest = lines.pop()!;
        for (const line of lines) {
          if (this.cut) return;
          if (line !== '' && this.linesPassed++ === cutAfterLines) {
            this.cut = true;
            far.destroy();
            laptop.destroy();
            return;
          }
          to.write(`${line}\n`, 'latin1');
        }
      });
    };
    far.on('error', () => {});
    pass(far, cable);
    pass(cable, far);
  }
}

export const strip = {
  firstMs: 5000,
  stepStops120: 60,
  stepMs: 0,
  patches: 5,
  cover: 'cumulative',
  filter: '',
} as const;

export function recipe(title: string, version = 1): BoardRecipe {
  return {
    name: 'jetty',
    version,
    title,
    negative: 'SM-014',
    paper: 'matt, fibre',
    baseMs: 12_000 + version,
    aperture10: 80,
    magnification1000: 4500,
    dryDown10: 80,
    passes: [
      {
        kind: 'base',
        label: 'all',
        filter: '2 1/2',
        stops120: 0,
        dodges: [
          { label: 'face, außen', stops120: -40 },
          { label: 'reeds', stops120: -30 },
        ],
      },
      { kind: 'burn', label: 'sky "left"', filter: '00', stops120: 90, dodges: [] },
      { kind: 'burn', label: 'съ water', filter: '00', stops120: 40, dodges: [] },
    ],
  };
}
