import type { MessageOf } from '../../../shared-protocol/index.js';
import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';

/** A board's and a laptop's clocks may drift this far apart between two beats before it means a restart. */
const UPTIME_SLACK_MS = 1000;

/** When nothing was heard for a while, asks whether the board is there; and notices when it started anew meanwhile. */
export class Heartbeat {
  readonly #link: Link;
  readonly #setup: LinkSetup;
  readonly #ask: () => Promise<MessageOf<'status'>>;
  #uptimeMs = 0;
  #stopped = false;
  #cancel = () => {};

  constructor(link: Link, setup: LinkSetup, ask: () => Promise<MessageOf<'status'>>) {
    this.#link = link;
    this.#setup = setup;
    this.#ask = ask;
  }

  start(): void {
    const { clock, timing } = this.#setup;
    const idleMs = clock.nowMs() - this.#link.lastHeardMs;
    this.#cancel = clock.after(Math.max(timing.heartbeatMs - idleMs, 0), () => this.#beat());
  }

  stop(): void {
    this.#stopped = true;
    this.#cancel();
  }

  #beat(): void {
    const { clock, timing } = this.#setup;
    if (this.#link.end !== undefined) return;
    if (clock.nowMs() - this.#link.lastHeardMs < timing.heartbeatMs) this.start();
    else void this.#askAndGoOn();
  }

  async #askAndGoOn(): Promise<void> {
    try {
      this.#compare((await this.#ask()).uptimeMs);
    } catch {
      // A board that is gone has failed the link already, and a refusal is a sign of life as well.
    }
    if (this.#link.end === undefined && !this.#stopped) this.start();
  }

  #compare(uptimeMs: number): void {
    if (uptimeMs + UPTIME_SLACK_MS < this.#uptimeMs) this.#link.fail('it started anew');
    this.#uptimeMs = uptimeMs;
  }
}
