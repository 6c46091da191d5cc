import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';

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
  #cancel = () => {};

  constructor(link: Link, setup: LinkSetup, line: string, again: () => void) {
    this.#link = link;
    this.#setup = setup;
    this.#line = line;
    this.#again = again;
  }

  start(): void {
    this.#startMs = this.#setup.clock.nowMs();
    this.#noLineBefore = this.#link.bytesInNoLine;
    this.#send();
  }

  stop(): void {
    this.#cancel();
  }

  /** False when it was said often enough. */
  repeat(): boolean {
    if (this.#repeats >= this.#setup.timing.repeats) return false;
    this.#repeats++;
    this.#link.counters.repeats++;
    this.#again();
    this.#cancel();
    this.#send();
    return true;
  }

  #send(): void {
    this.#sentMs = this.#setup.clock.nowMs();
    // The wait comes first: on some streams the answer is here before `send` returns.
    this.#waitUntil(this.#sentMs + this.#setup.timing.answerMs);
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
    const dueMs = Math.max(this.#sentMs, this.#link.lastHeardMs) + timing.answerMs;
    if (nowMs >= this.#startMs + timing.longestMs)
      this.#link.fail(`no answer in ${timing.longestMs / 1000} s${this.#noLines()}`);
    else if (nowMs < dueMs) this.#waitUntil(dueMs);
    else if (this.#repeats < timing.repeats) this.repeat();
    else this.#link.fail(`no answer, though asked ${this.#repeats + 1} times${this.#noLines()}`);
  }

  /** What came meanwhile and was no line, in words. */
  #noLines(): string {
    const bytes = this.#link.bytesInNoLine - this.#noLineBefore;
    return bytes === 0 ? '' : `; ${bytes} bytes came that are no line of a board`;
  }
}
