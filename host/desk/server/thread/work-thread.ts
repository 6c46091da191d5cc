import { once } from 'node:events';
import { type TransferListItem, Worker } from 'node:worker_threads';
import { coreUrl } from '../../../core/load-core.js';
import { InTurn } from '../../in-turn.js';
import type { Works } from './within/works.js';

/** What the thread is sent. */
export interface Order {
  readonly work: keyof Works;
  readonly asked: unknown;
}

/** What comes back. */
export type Done = { readonly result: unknown } | { readonly error: unknown };

/** Where the build leaves it: beside the compiled library, as the core is. */
const ownScript = new URL('library/js/desk-thread.js', coreUrl);

/**
 * A thread beside the server's, so that the page is answered while a strip is read. One thing is done at a time: each
 * takes a whole core, and memory. It starts with the first and stays for the next, until it is closed.
 */
export class WorkThread {
  readonly #script: URL;
  readonly #turn = new InTurn();
  #worker: Worker | undefined;
  #isClosed = false;

  constructor(script = ownScript) {
    this.#script = script;
  }

  /**
   * @param given what is handed over and not copied: here it is empty afterwards.
   * @throws Error what went wrong in there, or that the thread ended
   */
  do<Work extends keyof Works>(
    work: Work,
    asked: Parameters<Works[Work]>[0],
    given: readonly TransferListItem[] = [],
  ): Promise<Awaited<ReturnType<Works[Work]>>> {
    return this.#turn.do(async () => {
      const done = await this.#send({ work, asked }, given);
      if ('error' in done) throw done.error;
      return done.result as never;
    });
  }

  /** What is under way and what waits is not done any more. */
  async close(): Promise<void> {
    this.#isClosed = true;
    await this.#worker?.terminate();
  }

  async #send(order: Order, given: readonly TransferListItem[]): Promise<Done> {
    const worker = this.#running();
    const over = new AbortController();
    const { signal } = over;
    const ended = once(worker, 'exit', { signal }).then(() => {
      throw new Error(`the thread that was to do '${order.work}' has ended`);
    });
    worker.postMessage(order, given);
    try {
      const [done] = await Promise.race([once(worker, 'message', { signal }), ended]);
      return done;
    } finally {
      over.abort();
    }
  }

  #running(): Worker {
    if (this.#isClosed) throw new Error('the desk was closed');
    if (this.#worker === undefined) {
      const worker = new Worker(this.#script);
      const forget = () => {
        if (this.#worker === worker) this.#worker = undefined;
      };
      worker.on('error', forget).on('exit', forget);
      this.#worker = worker;
    }
    return this.#worker;
  }
}
