import type { SimulatedBoard } from '../../host/sim/simulated-board.js';
import type { Timeline } from '../../host/sim/timeline.js';
import type { Random } from '../setup/random.js';

/** Somebody at the pedal: taps, holds, a foot that slips, and time between them. */
export class PrinterAtWork {
  /** When the pedal's contact last changed. */
  touchedUs = Number.NEGATIVE_INFINITY;
  #stopped = false;
  readonly #timeline: Timeline;
  readonly #random: Random;
  readonly #board: SimulatedBoard;

  constructor(timeline: Timeline, random: Random, board: SimulatedBoard) {
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
    return this.#random.pick([150_000, 400_000, 900_000, 2_500_000]) + this.#random.below(500_000);
  }

  /** Mostly taps, some holds, once in a while a foot that stays. */
  #pressUs(): number {
    const kind = this.#random.below(40);
    if (kind === 0) return 11_000_000;
    return kind < 12 ? 950_000 : 60_000 + this.#random.below(120_000);
  }
}
