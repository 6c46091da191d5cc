import type { Board } from '../../../host/board/link/board.js';
import { type OpenBoardOptions, openBoard } from '../../../host/board/link/open-board.js';
import type { BoardHome } from '../../../host/board/sim/board-home.js';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import type { Random } from '../../setup/random.js';
import type { FaultKind } from './faults.js';
import { FaultyWire, silence } from './faulty-wire.js';
import type { LineSetup, WorldLine } from './world-line.js';

const BABBLE_US = 500_000;

/** Wires from a serial adapter: its port stays whatever the board does. */
export class UartLine implements WorldLine {
  readonly #home: BoardHome;
  readonly #timeline: Timeline;
  readonly #setup: LineSetup;
  readonly #wire: FaultyWire;
  #isWell = false;

  /** @param byteUs what a byte takes on it; 0 where the board paces its line itself. */
  constructor(home: BoardHome, timeline: Timeline, random: Random, byteUs: number, setup: LineSetup) {
    this.#home = home;
    this.#timeline = timeline;
    this.#setup = setup;
    this.#wire = new FaultyWire(timeline, random, byteUs);
    this.#wire.noise = setup.climate.noise;
  }

  get accidents() {
    return this.#wire.accidents;
  }

  open(options: OpenBoardOptions): Promise<Board> {
    return openBoard(this.#wire.connect(this.#home.plug(), this.#setup.hear), options);
  }

  programEnds(): void {
    this.#wire.pull();
  }

  strike(kind: FaultKind): boolean {
    if (kind === 'cable pulled') this.#wire.pull();
    else if (kind === 'babble on the line') this.#babble();
    else return false;
    return true;
  }

  makeWell(): void {
    this.#isWell = true;
    this.#wire.noise = silence;
  }

  #babble(): void {
    this.#wire.noise = { ...this.#setup.climate.noise, flipped: 0.05, dropped: 0.02 };
    this.#timeline.at(this.#timeline.nowUs + BABBLE_US, () => {
      this.#wire.noise = this.#isWell ? silence : this.#setup.climate.noise;
    });
  }
}
