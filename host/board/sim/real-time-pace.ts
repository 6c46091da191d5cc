import type { Timeline } from './timeline.js';

/** setTimeout takes no longer waits; a long one is simply taken up again. */
const LONGEST_WAIT_MS = 60_000;

/** Lets a timeline go on as real time does, `speed` times as fast. Events carry the time they were due at. */
export class RealTimePace {
  readonly #timeline: Timeline;
  readonly #speed: number;
  readonly #startMs = performance.now();
  readonly #startUs: number;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #stopped = false;

  constructor(timeline: Timeline, speed = 1) {
    if (!(speed > 0)) throw new RangeError(`a speed of ${speed} leads nowhere: give a number above 0`);
    this.#timeline = timeline;
    this.#speed = speed;
    this.#startUs = timeline.nowUs;
    timeline.earlier = () => this.#arm();
    this.#arm();
  }

  /** Brings the timeline up to this very moment, so that something from outside can happen in it. */
  catchUp(): void {
    if (this.#stopped) return;
    const elapsedMs = performance.now() - this.#startMs;
    this.#timeline.runUntil(this.#startUs + Math.floor(elapsedMs * 1000 * this.#speed));
    this.#arm();
  }

  stop(): void {
    this.#stopped = true;
    clearTimeout(this.#timer);
  }

  #arm(): void {
    clearTimeout(this.#timer);
    const { nextUs } = this.#timeline;
    if (this.#stopped || nextUs === undefined) return;
    const dueMs = this.#startMs + (nextUs - this.#startUs) / 1000 / this.#speed;
    const waitMs = Math.min(Math.max(Math.ceil(dueMs - performance.now()), 0), LONGEST_WAIT_MS);
    this.#timer = setTimeout(() => this.catchUp(), waitMs);
  }
}
