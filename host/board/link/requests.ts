import {
  type EndOf,
  encodeLine,
  type Message,
  protocolVersion,
  type RequestType,
} from '../../../shared-protocol/index.js';
import { pause } from '../../clock.js';
import { type BoardLostError, RefusedError } from '../errors.js';
import { AnswerReader, type AskOptions, type Wish } from './answer-reader.js';
import { AnswerWatch } from './answer-watch.js';
import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';
import { isNotice } from './notices.js';

const LONGEST_ID = 0xffff;

/** What came of a request that the board did carry out. */
export interface Answered<Type extends RequestType = RequestType> {
  readonly answer: EndOf<Type>;
  /** The very line that was carried out. */
  readonly line: string;
}

/** Whoever can ask a board, one thing after the other. */
export interface Asking {
  ask<Type extends RequestType>(wish: Wish<Type>, options?: AskOptions<Type>): Promise<Answered<Type>>;
  inTurn<Result>(work: () => Promise<Result>): Promise<Result>;
}

interface Pending {
  readonly received: (message: Message) => void;
  readonly unreadable: (line: string, why: string) => void;
  readonly repeat: () => void;
  readonly lost: (error: BoardLostError) => void;
}

/**
 * Requests and their numbered answers. Numbers start anywhere and wrap at 65535; the same line with the same number
 * may always be sent again, since the board answers a repeat from memory. Repeats, busy answers and the time for it
 * all are bounded.
 */
export class Requests implements Asking {
  readonly #link: Link;
  readonly #setup: LinkSetup;
  readonly #pending = new Map<number, Pending>();
  /** What the board speaks, once it has said so. */
  #protocol = protocolVersion;
  #isConversation = false;
  #nextId: number;
  /** The end of the queue of requests that change something. */
  #turn: Promise<unknown> = Promise.resolve();

  constructor(link: Link, setup: LinkSetup) {
    this.#link = link;
    this.#setup = setup;
    this.#nextId = 1 + setup.draw(LONGEST_ID);
    link.listen({
      received: (message) => this.#received(message),
      unreadable: (line, id, why) => this.#pending.get(id)?.unreadable(line, why),
      lost: (error) => {
        for (const pending of [...this.#pending.values()]) pending.lost(error);
      },
    });
  }

  /** From now on requests go out under the names that they have in that protocol, or else in this one. */
  speak(protocol: number): void {
    this.#protocol = Math.min(protocol, protocolVersion);
  }

  /** The board answered a hello of our version: one that later knows nothing of it has started anew. */
  beginConversation(): void {
    this.#isConversation = true;
  }

  /** A number for a line of one's own. */
  takeId(): number {
    const id = this.#nextId;
    this.#nextId = id === LONGEST_ID ? 1 : id + 1;
    return id;
  }

  /**
   * Asks, and asks again while the board is busy.
   * @throws RefusedError when the board says no, WrongAnswerError when it says what is no answer, BoardLostError when
   *   nothing comes, the signal's reason when aborted.
   */
  async ask<Type extends RequestType>(
    wish: Wish<Type>,
    options: AskOptions<Type> = {},
  ): Promise<Answered<Type>> {
    const { clock, timing } = this.#setup;
    const endMs = clock.nowMs() + timing.longestMs;
    for (let retries = 0; ; retries++) {
      try {
        return await this.#askOnce(wish, options);
      } catch (error) {
        const code = error instanceof RefusedError ? error.code : undefined;
        if (code === 'not-allowed') await this.#expectSameRun(wish.type);
        const busy = code === 'busy';
        if (!busy || retries === timing.busyRetries || clock.nowMs() >= endMs) throw error;
      }
      options.again?.();
      await pause(clock, timing.busyMs, options.signal);
    }
  }

  /**
   * A board that started anew while the laptop slept answers what every version may ask, and refuses the rest until a hello: also
   * a ping, which it refuses for no other reason. @throws BoardLostError then, so that the work begins again.
   */
  async #expectSameRun(refused: RequestType): Promise<void> {
    if (!this.#isConversation || refused === 'ping') return;
    try {
      await this.#askOnce({ type: 'ping' }, {});
    } catch (error) {
      if (!(error instanceof RefusedError) || error.code !== 'not-allowed') throw error;
      this.#link.fail('it started anew');
      throw this.#link.end!;
    }
  }

  /** As `ask`, one at a time: for requests that change something. */
  askInTurn<Type extends RequestType>(
    wish: Wish<Type>,
    options: AskOptions<Type> = {},
  ): Promise<Answered<Type>> {
    return this.inTurn(() => this.ask(wish, options));
  }

  /** Runs `work` when every earlier piece of work of this kind is over, however it ended. */
  inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
    const result = this.#turn.then(work);
    this.#turn = result.catch(() => {});
    return result;
  }

  #askOnce<Type extends RequestType>(wish: Wish<Type>, options: AskOptions<Type>): Promise<Answered<Type>> {
    const { promise, resolve, reject } = withResolvers<Answered<Type>>();
    if (this.#link.end !== undefined) return Promise.reject(this.#link.end);
    if (options.signal?.aborted) return Promise.reject(options.signal.reason);
    const id = this.takeId();
    const line = encodeLine({ ...wish, id } as unknown as Message, this.#protocol);
    const abort = () => settle(() => reject(options.signal!.reason));
    const settle = (finish: () => void) => {
      watch.stop();
      this.#pending.delete(id);
      options.signal?.removeEventListener('abort', abort);
      finish();
    };
    const reader = new AnswerReader(this.#link.path, wish as Wish, options as AskOptions, {
      done: (answer) => settle(() => resolve({ answer: answer as EndOf<Type>, line })),
      failed: (error) => settle(() => reject(error)),
      repeat: () => watch.repeat(),
      wrong: (why) => this.#link.passOver('wrongAnswers', `no answer to '${wish.type}': ${why}`),
    });
    const watch = new AnswerWatch(this.#link, this.#setup, line, () => reader.again());
    this.#pending.set(id, {
      received: (message) => reader.received(message),
      unreadable: (unread, why) => reader.unreadable(unread, why),
      repeat: () => {
        if (!reader.isUnderWay) watch.repeat();
      },
      lost: (error) => settle(() => reject(error)),
    });
    options.signal?.addEventListener('abort', abort);
    watch.start();
    return promise;
  }

  #received(message: Message): void {
    const pending = message.id === 0 ? undefined : this.#pending.get(message.id);
    if (pending) pending.received(message);
    else if (message.id === 0 && message.type === 'error') this.#repeatAll();
    else if (message.type !== 'welcome' && !isNotice(message))
      this.#link.passOver('strayAnswers', `'${message.type}' ${message.id} answers nothing that is asked`);
  }

  /** The board could not even read a number: whichever line it was, saying them all again is harmless, but for those it is answering. */
  #repeatAll(): void {
    for (const pending of [...this.#pending.values()]) pending.repeat();
  }
}

function withResolvers<Value>() {
  let resolve!: (value: Value) => void;
  let reject!: (reason: unknown) => void;
  const promise = new Promise<Value>((yes, no) => {
    resolve = yes;
    reject = no;
  });
  return { promise, resolve, reject };
}
