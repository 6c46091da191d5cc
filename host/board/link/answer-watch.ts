import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';

/** The share of the usual silence that is enough where a damaged line came, and how often it is. */
const SHARE_IN_NOISE = 0.05;
const REPEATS_IN_NOISE = 4;

/** Sends a line, again after each silence, and gives the board up in the end. */
export class AnswerWatch {
  readonly #link: Link;
  readonly #setup: LinkSetup;
  readonly #line: string;
  readonly #again: () => void;
  #startMs = 0;
  #noLineBefore = 0;
  #sentMs = 0;
  #repeats = 0;
  #repeatsInNoise = 0;
  #damageBefore = 0;
  #isOver = false;
  #cancel = () => {};

  constructor(link: Link, setup: LinkSetup, line: string, again: () => void) {
    this.#link = link;
    this.#setup = setup;
    this.#line = line;
    this.#again = again;
  }

  start(): void {
    this.#startMs = this.#setup.clock.nowMs();
    this.#damageBefore = this.#link.damagedLines;
    this.#noLineBefore = this.#link.bytesInNoLine;
    this.#send();
  }

  stop(): void {
    this.#isOver = true;
    this.#cancel();
  }

  /** False when it was said often enough. What an answer is told to may have ended the request: then it is not said again. */
  repeat(): boolean {
    if (this.#isOver) return true;
    if (this.#repeats >= this.#setup.timing.repeats) return false;
    this.#repeats++;
    this.#sendAgain();
    return true;
  }

  #sendAgain(): void {
    this.#link.counters.repeats++;
    this.#again();
    this.#cancel();
    this.#send();
  }

  #send(): void {
    this.#sentMs = this.#setup.clock.nowMs();
    // The wait comes first: on some streams the answer is here before `send` returns.
    this.#waitUntil(this.#sentMs + this.#noiseMs);
    this.#link.send(this.#line);
  }

  #waitUntil(dueMs: number): void {
    this.#cancel = this.#setup.clock.after(Math.max(dueMs - this.#setup.clock.nowMs(), 0), () =>
      this.#silent(),
    );
  }

  /** Silence counts from the last good line: a board in the middle of a long answer is not silent. */
  #silent(): void {
    const { clock, timing } = this.#setup;
    const nowMs = clock.nowMs();
    const quietMs = Math.max(this.#sentMs, this.#link.lastHeardMs);
    const dueMs = quietMs + (this.#isHurried ? this.#noiseMs : timing.answerMs);
    if (nowMs >= this.#startMs + timing.longestMs)
      this.#link.fail(`no answer in ${timing.longestMs / 1000} s${this.#noLines()}`);
    else if (nowMs < dueMs) this.#waitUntil(Math.min(dueMs, nowMs + this.#noiseMs));
    else if (this.#isHurried) this.#repeatInNoise();
    else if (this.#repeats < timing.repeats) {
      // On some streams the answer is here before `repeat` returns.
      this.#link.tellSilence();
      this.repeat();
    } else this.#link.fail(`no answer, though asked ${this.#repeats + 1} times${this.#noLines()}`);
  }

  #repeatInNoise(): void {
    this.#repeatsInNoise++;
    this.#sendAgain();
  }

  /** The answer, or a part of it, may be what came damaged: then waiting long brings nothing. */
  get #isHurried(): boolean {
    return this.#repeatsInNoise < REPEATS_IN_NOISE && this.#link.damagedLines > this.#damageBefore;
  }

  get #noiseMs(): number {
    return this.#setup.timing.answerMs * SHARE_IN_NOISE;
  }

  /** What came meanwhile and was no line, in words. */
  #noLines(): string {
    const bytes = this.#link.bytesInNoLine - this.#noLineBefore;
    return bytes === 0 ? '' : `; ${bytes} bytes came that are no line of a board`;
  }
}
