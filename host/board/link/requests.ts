import {
  type ErrorCode,
  encodeLine,
  fieldsOf,
  type Message,
  type MessageOf,
  type MessageType,
  protocolVersion,
} from '../../../shared-protocol/index.js';
import { pause } from '../../clock.js';
import { type BoardLostError, RefusedError } from '../errors.js';
import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';

const LONGEST_ID = 0xffff;

/** A request as its sender words it; the number is given here. */
export type Wish<Type extends MessageType = MessageType> = {
  [Key in Type]: Omit<MessageOf<Key>, 'id'>;
}[Type];

/** What an answer's line means to the request it answers. */
export type Verdict = 'more' | 'done';

export interface AskOptions {
  readonly signal?: AbortSignal | undefined;
  /** Called for each line of the answer; 'done' ends it. Left out, the first line is the answer. */
  readonly take?: ((message: Message) => Verdict) | undefined;
  /** Called when the line is sent again: an answer of several lines starts anew. */
  readonly again?: (() => void) | undefined;
  /** Called for a line that only another version can read. */
  readonly takeUnreadable?: ((line: string) => void) | undefined;
}

/** What came of a request that the board did carry out. */
export interface Answered {
  readonly answer: Message;
  /** The very line that was carried out. */
  readonly line: string;
}

/** The board could not read what was sent, though it was right when it left: worth sending again. */
const DAMAGED: ReadonlySet<ErrorCode> = new Set(['bad-line', 'bad-crc']);

interface Pending {
  readonly received: (message: Message) => void;
  readonly unreadable: (line: string) => void;
  readonly repeat: () => void;
  readonly lost: (error: BoardLostError) => void;
}

/**
 * Requests and their numbered answers. Numbers start anywhere and wrap at 65535; the same line with the same number
 * may always be sent again, since the board answers a repeat from memory. Repeats, busy answers and the time for it
 * all are bounded.
 */
export class Requests {
  readonly #link: Link;
  readonly #setup: LinkSetup;
  readonly #pending = new Map<number, Pending>();
  /** What the board speaks, once it has said so. */
  #protocol = protocolVersion;
  #nextId: number;
  /** The end of the queue of requests that change something. */
  #turn: Promise<unknown> = Promise.resolve();

  constructor(link: Link, setup: LinkSetup) {
    this.#link = link;
    this.#setup = setup;
    this.#nextId = 1 + setup.draw(LONGEST_ID);
    link.listen({
      received: (message) => this.#received(message),
      unreadable: (line) => {
        for (const pending of this.#pending.values()) pending.unreadable(line);
      },
      lost: (error) => {
        for (const pending of [...this.#pending.values()]) pending.lost(error);
      },
    });
  }

  /** From now on requests go out under the names that they have in that protocol, or else in this one. */
  speak(protocol: number): void {
    this.#protocol = Math.min(protocol, protocolVersion);
  }

  /** A number for a line of one's own. */
  takeId(): number {
    const id = this.#nextId;
    this.#nextId = id === LONGEST_ID ? 1 : id + 1;
    return id;
  }

  /**
   * Asks, and asks again while the board is busy.
   * @throws RefusedError when the board says no, BoardLostError when nothing comes, the signal's reason when aborted.
   */
  async ask(wish: Wish, options: AskOptions = {}): Promise<Answered> {
    const { clock, timing } = this.#setup;
    for (let retries = 0; ; retries++) {
      try {
        return await this.#askOnce(wish, options);
      } catch (error) {
        const busy = error instanceof RefusedError && error.code === 'busy';
        if (!busy || retries === timing.busyRetries) throw error;
      }
      options.again?.();
      await pause(clock, timing.busyMs, options.signal);
    }
  }

  /** As `ask`, one at a time: for requests that change something. */
  askInTurn(wish: Wish, options: AskOptions = {}): Promise<Answered> {
    return this.inTurn(() => this.ask(wish, options));
  }

  /** Runs `work` when every earlier piece of work of this kind is over, however it ended. */
  inTurn<Result>(work: () => Promise<Result>): Promise<Result> {
    const result = this.#turn.then(work);
    this.#turn = result.catch(() => {});
    return result;
  }

  #askOnce(wish: Wish, options: AskOptions): Promise<Answered> {
    const { promise, resolve, reject } = withResolvers<Answered>();
    if (this.#link.end !== undefined) return Promise.reject(this.#link.end);
    if (options.signal?.aborted) return Promise.reject(options.signal.reason);
    const id = this.takeId();
    const line = encodeLine({ ...wish, id } as Message, this.#protocol);
    const watch = new AnswerWatch(this.#link, this.#setup, line, options.again);
    const abort = () => settle(() => reject(options.signal!.reason));
    const settle = (finish: () => void) => {
      watch.stop();
      this.#pending.delete(id);
      options.signal?.removeEventListener('abort', abort);
      finish();
    };
    const take = options.take ?? (() => 'done');
    this.#pending.set(id, {
      received: (message) => {
        if (message.type !== 'error') {
          if (take(message) === 'done') settle(() => resolve({ answer: message, line }));
        } else if (DAMAGED.has(message.code)) watch.repeat();
        else settle(() => reject(refusal(wish, message)));
      },
      unreadable: (unread) => options.takeUnreadable?.(unread),
      repeat: () => watch.repeat(),
      lost: (error) => settle(() => reject(error)),
    });
    options.signal?.addEventListener('abort', abort, { once: true });
    watch.start();
    return promise;
  }

  #received(message: Message): void {
    const pending = this.#pending.get(message.id);
    if (pending) pending.received(message);
    else if (message.id === 0) {
      if (message.type === 'error') this.#repeatAll();
    } else if (message.type !== 'welcome') this.#link.counters.strayAnswers++;
  }

  /** The board could not even read a number: whichever line it was, saying them all again is harmless. */
  #repeatAll(): void {
    for (const pending of [...this.#pending.values()]) pending.repeat();
  }
}

/** Sends a line, again after each silence, and gives the board up in the end. */
class AnswerWatch {
  readonly #link: Link;
  readonly #setup: LinkSetup;
  readonly #line: string;
  readonly #again: (() => void) | undefined;
  #startMs = 0;
  #sentMs = 0;
  #repeats = 0;
  #cancel = () => {};

  constructor(link: Link, setup: LinkSetup, line: string, again: (() => void) | undefined) {
    this.#link = link;
    this.#setup = setup;
    this.#line = line;
    this.#again = again;
  }

  start(): void {
    this.#startMs = this.#setup.clock.nowMs();
    this.#send();
  }

  stop(): void {
    this.#cancel();
  }

  repeat(): void {
    if (this.#repeats === this.#setup.timing.repeats) return;
    this.#repeats++;
    this.#link.counters.repeats++;
    this.#again?.();
    this.#cancel();
    this.#send();
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
      this.#link.fail(`no answer in ${timing.longestMs / 1000} s`);
    else if (nowMs < dueMs) this.#waitUntil(dueMs);
    else if (this.#repeats < timing.repeats) this.repeat();
    else this.#link.fail(`no answer, though asked ${this.#repeats + 1} times`);
  }
}

function refusal(wish: Wish, { code, text, field: place, low, high }: MessageOf<'error'>): RefusedError {
  const field = fieldsOf(wish.type)[place - 1]?.name;
  const hasRange = field !== undefined && (low !== 0 || high !== 0);
  return new RefusedError({
    request: wish.type,
    code,
    text,
    subject: 'name' in wish ? wish.name : undefined,
    field,
    given: field && (wish as Record<string, unknown>)[field],
    low: hasRange ? low : undefined,
    high: hasRange ? high : undefined,
  });
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
