import { setImmediate } from 'node:timers';
import type { EmulatedBoard } from '../firmware/board/rig/emulated-board.js';

/** Work on the board at a stretch, so that the cable's other end is served meanwhile. */
const STRETCH_MS = 4;
const STEP_US = 500;
const REST_MS = 1;

/**
 * Lets the emulated board's time go on as real time does, and never faster. Where the chip has so much to do that it falls
 * behind, the time is lost to it: it does not run ahead afterwards, or its own waits would be shorter than the laptop's.
 */
export class PacedBoard {
  readonly board: EmulatedBoard;
  /** Time of the chip that was lost since the start, because the computer was too slow. */
  lostMs = 0;
  #aheadOfClockMs = 0;
  #stopped = true;

  constructor(board: EmulatedBoard) {
    this.board = board;
  }

  start(): void {
    this.#stopped = false;
    this.#aheadOfClockMs = this.#chipMs - performance.now();
    this.#goOn();
  }

  stop(): void {
    this.#stopped = true;
  }

  get #chipMs(): number {
    return this.board.nowUs / 1000;
  }

  #goOn(): void {
    if (this.#stopped) return;
    const endMs = performance.now() + STRETCH_MS;
    while (this.#behindMs > 0 && performance.now() < endMs) this.board.advanceUs(STEP_US);
    const behindMs = this.#behindMs;
    if (behindMs > STRETCH_MS) {
      this.lostMs += behindMs;
      this.#aheadOfClockMs -= behindMs;
    }
    if (behindMs > 0) setImmediate(() => this.#goOn());
    else setTimeout(() => this.#goOn(), REST_MS);
  }

  get #behindMs(): number {
    return performance.now() + this.#aheadOfClockMs - this.#chipMs;
  }
}
