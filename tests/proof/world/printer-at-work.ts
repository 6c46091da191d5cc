import type { BoardHome } from '../../../host/board/sim/board-home.js';
import type { Timeline } from '../../../host/board/sim/timeline.js';
import type { Random } from '../../setup/random.js';

const HOLD_US = 950_000;
const STUCK_US = 11_000_000;

/** Somebody who mostly follows the panel, and sometimes taps, holds, turns or slips as it comes. */
export class PrinterAtWork {
  /** When the pedal's contact last changed. */
  touchedUs = Number.NEGATIVE_INFINITY;
  #stopped = true;
  readonly #timeline: Timeline;
  readonly #random: Random;
  readonly #board: BoardHome;
  readonly #knobShare: number;

  /** `knobShare` of the gestures, 0 to 1, are made with the knob. */
  constructor(timeline: Timeline, random: Random, board: BoardHome, knobShare: number) {
    this.#timeline = timeline;
    this.#random = random;
    this.#board = board;
    this.#knobShare = knobShare;
  }

  start(): void {
    this.#stopped = false;
    this.#goOn();
  }

  stop(): void {
    this.#stopped = true;
    this.#pedal(false);
    this.#board.knobPush(false);
  }

  #goOn(): void {
    this.#after(this.#pauseUs(), () => {
      if (!this.#random.chance(this.#knobShare)) this.#press((down) => this.#pedal(down), this.#pressUs());
      else if (this.#random.chance(0.5)) {
        this.#board.knobTurn(this.#random.pick([-2, -1, 1, 1, 2, 5]));
        this.#goOn();
      } else this.#press((down) => this.#board.knobPush(down), this.#random.pick([this.#tapUs(), HOLD_US]));
    });
  }

  #press(contact: (down: boolean) => void, forUs: number): void {
    contact(true);
    this.#after(forUs, () => {
      contact(false);
      this.#goOn();
    });
  }

  #after(us: number, run: () => void): void {
    this.#timeline.at(this.#timeline.nowUs + us, () => {
      if (!this.#stopped) run();
    });
  }

  #pedal(down: boolean): void {
    this.touchedUs = this.#timeline.nowUs;
    this.#board.pedal(down);
  }

  #pauseUs(): number {
    return this.#random.pick([100_000, 300_000, 500_000, 1_500_000]) + this.#random.below(200_000);
  }

  #tapUs(): number {
    return 60_000 + this.#random.below(120_000);
  }

  #pressUs(): number {
    const tapUs = this.#tapUs();
    if (this.#random.chance(0.01)) return STUCK_US;
    if (this.#random.chance(0.2)) return this.#random.pick([tapUs, HOLD_US]);
    return /^Hold|Hold$/.test(this.#board.panel[0] ?? '') && this.#random.chance(0.9) ? HOLD_US : tapUs;
  }
}
