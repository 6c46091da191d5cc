import type { BoardHome } from '../../host/sim/board-home.js';
import type { Timeline } from '../../host/sim/timeline.js';
import type { Random } from '../setup/random.js';

const HOLD_US = 950_000;
const STUCK_US = 11_000_000;

/** Somebody at the pedal who mostly follows the panel, and sometimes taps, holds or slips as it comes. */
export class PrinterAtWork {
  /** When the pedal's contact last changed. */
  touchedUs = Number.NEGATIVE_INFINITY;
  #stopped = false;
  readonly #timeline: Timeline;
  readonly #random: Random;
  readonly #board: BoardHome;

  constructor(timeline: Timeline, random: Random, board: BoardHome) {
    this.#timeline = timeline;
    this.#random = random;
    this.#board = board;
    this.#goOn();
  }

  stop(): void {
    this.#stopped = true;
    this.#pedal(false);
  }

  #goOn(): void {
    this.#timeline.at(this.#timeline.nowUs + this.#pauseUs(), () => {
      if (this.#stopped) return;
      this.#pedal(true);
      this.#timeline.at(this.#timeline.nowUs + this.#pressUs(), () => {
        if (this.#stopped) return;
        this.#pedal(false);
        this.#goOn();
      });
    });
  }

  #pedal(down: boolean): void {
    this.touchedUs = this.#timeline.nowUs;
    this.#board.pedal(down);
  }

  #pauseUs(): number {
    return this.#random.pick([100_000, 300_000, 500_000, 1_500_000]) + this.#random.below(200_000);
  }

  #pressUs(): number {
    const tapUs = 60_000 + this.#random.below(120_000);
    if (this.#random.chance(0.01)) return STUCK_US;
    if (this.#random.chance(0.2)) return this.#random.pick([tapUs, HOLD_US]);
    return /^Hold/.test(this.#board.panel[0] ?? '') && this.#random.chance(0.9) ? HOLD_US : tapUs;
  }
}
