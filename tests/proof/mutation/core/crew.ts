import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import type { Reach, Share, Verdict } from './trials.js';
import type { Order } from './worker.js';

const program = fileURLToPath(new URL('worker.js', import.meta.url));
/** A mutant that holds its process up this long never ends. */
const LIMIT_MS = 600_000;
/** For all checks, one after another. */
const REACH_LIMIT_MS = 3_600_000;

/** What the longest checks are made smaller by: a mutant meets them again and again. */
const smaller = { TREADLE_STATES: '2000', TREADLE_EVENTS: '4000' };

/** A process that tries mutants; a new one where a mutant never lets go of it. */
export class Worker {
  #child: ChildProcess | undefined;
  #use: Order | undefined;

  async reach(share: Share): Promise<Reach[]> {
    return (await this.#ask({ reach: share }, REACH_LIMIT_MS)) as Reach[];
  }

  async use(reaches: readonly Reach[], longestMs: number): Promise<void> {
    this.#use = { use: reaches, longestMs };
    await this.#ask(this.#use);
  }

  /** Once more in a process of its own where a check fails by itself afterwards. */
  async try(id: string): Promise<Verdict> {
    const verdict = await this.#tryOnce(id);
    if (verdict.is !== 'unsure') return verdict;
    this.end();
    return await this.#tryOnce(id);
  }

  async isEqual(id: string): Promise<boolean> {
    return (await this.#ask({ equal: id })) as boolean;
  }

  end(): void {
    this.#child?.kill('SIGKILL');
    this.#child = undefined;
  }

  async #tryOnce(id: string): Promise<Verdict> {
    if (this.#child === undefined) await this.#start();
    try {
      return (await this.#ask({ try: id })) as Verdict;
    } catch (error) {
      this.end();
      return { id, is: 'noticed', by: 'the process that ran it', said: (error as Error).message };
    }
  }

  async #ask(order: Order, limitMs = LIMIT_MS): Promise<unknown> {
    const child = this.#child ?? (await this.#start());
    child.send(order);
    const [{ answer, failed }] = (await answerOf(child, limitMs)) as [{ answer?: unknown; failed?: string }];
    if (failed !== undefined) throw new Error(failed);
    return answer;
  }

  async #start(): Promise<ChildProcess> {
    const child = fork(program, { env: { ...process.env, ...smaller } });
    await answerOf(child);
    this.#child = child;
    if (this.#use !== undefined) await this.#ask(this.#use);
    return child;
  }
}

async function answerOf(child: ChildProcess, limitMs = LIMIT_MS): Promise<unknown[]> {
  const ended = new AbortController();
  const limit = setTimeout(() => ended.abort(), limitMs);
  const onExit = () => ended.abort();
  child.once('exit', onExit);
  try {
    return await once(child, 'message', { signal: ended.signal });
  } catch (cause) {
    throw new Error('it never let go of its process, or ended it', { cause });
  } finally {
    clearTimeout(limit);
    child.off('exit', onExit);
  }
}
