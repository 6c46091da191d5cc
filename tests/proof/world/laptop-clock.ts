import type { Clock } from '../../../host/clock.js';
import type { Random } from '../../setup/random.js';

const DAY_MS = 86_400_000;

/** What a laptop whose clock is wrong may believe: never set, far ahead, past all that a board takes, no moment at all. */
const absurdTimesMs = [
  0,
  Date.UTC(1999, 11, 31, 23, 59, 59),
  Date.UTC(2010, 5, 1),
  Date.UTC(2038, 0, 19, 3, 14, 7),
  Date.UTC(2099, 11, 31, 23, 59, 58),
  Date.UTC(2100, 0, 1),
  Number.MAX_SAFE_INTEGER,
];

/** The laptop's clock: it goes as the world's does, and its date may be wrong. */
export class LaptopClock implements Clock {
  /** By how much its date was off at any time so far. */
  readonly offsetsMs = new Set([0]);
  #offsetMs = 0;
  readonly #clock: Clock;

  /** `clock` is the world's own, which is right. */
  constructor(clock: Clock) {
    this.#clock = clock;
  }

  nowMs(): number {
    return this.#clock.nowMs();
  }

  epochMs(): number {
    return Math.min(this.#clock.epochMs() + this.#offsetMs, Number.MAX_SAFE_INTEGER);
  }

  after(delayMs: number, run: () => void): () => void {
    return this.#clock.after(delayMs, run);
  }

  /** Somebody or something sets it: to an absurd time, back or forth by up to a year, or right. */
  jump(random: Random): void {
    const rightMs = this.#clock.epochMs();
    this.#offsetMs = random.pick([
      0,
      random.pick(absurdTimesMs) - rightMs,
      random.pick(absurdTimesMs) - rightMs,
      random.between(-365 * DAY_MS, 365 * DAY_MS),
      random.between(-3_600_000, 3_600_000),
    ]);
    this.offsetsMs.add(this.#offsetMs);
  }
}
