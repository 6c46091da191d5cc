import type { MessageOf } from '../../../shared-protocol/index.js';
import { RefusedError } from '../errors.js';
import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';

/** What a board says of its present run. */
type Run = Pick<MessageOf<'status'>, 'boot' | 'uptimeMs'>;

/** How far a board's uptime may seem to have gone back between two beats before it means a restart. */
const UPTIME_SLACK_MS = 1000;

/**
 * When this side said nothing for a while, asks whether the board is there, and notices when it started anew meanwhile. What
 * is heard does not count: a laptop that is told of everything and says nothing would lose its turn to the board's other cable.
 */
export class Heartbeat {
  readonly #link: Link;
  readonly #setup: LinkSetup;
  readonly #ask: () => Promise<Run>;
  #before: Run;
  #cancel = () => {};

  constructor(link: Link, setup: LinkSetup, welcome: Run, ask: () => Promise<Run>) {
    this.#link = link;
    this.#setup = setup;
    this.#before = welcome;
    this.#ask = ask;
  }

  start(): void {
    const { clock, timing } = this.#setup;
    const idleMs = clock.nowMs() - this.#link.lastSaidMs;
    this.#cancel = clock.after(Math.max(timing.heartbeatMs - idleMs, 0), () => this.#beat());
  }

  stop(): void {
    this.#cancel();
  }

  #beat(): void {
    const { clock, timing } = this.#setup;
    if (clock.nowMs() - this.#link.lastSaidMs < timing.heartbeatMs) this.start();
    else void this.#askAndGoOn();
  }

  async #askAndGoOn(): Promise<void> {
    try {
      this.#compare(await this.#ask());
    } catch (error) {
      // A board that is gone has failed the link already, and a refusal is a sign of life as well: but one that
      // knows nothing of this conversation began another run.
      if (error instanceof RefusedError && error.code === 'not-allowed') this.#link.fail('it started anew');
    }
    if (this.#link.end === undefined) this.start();
  }

  #compare(now: Run): void {
    const before = this.#before;
    this.#before = now;
    if (now.boot !== before.boot || wentMs(before, now) < -UPTIME_SLACK_MS)
      this.#link.fail('it started anew');
  }
}

/** From one uptime to the next; it wraps every 49.7 days, and `| 0` takes the shorter way round. */
function wentMs(before: Run, now: Run): number {
  return (now.uptimeMs - before.uptimeMs) | 0;
}
