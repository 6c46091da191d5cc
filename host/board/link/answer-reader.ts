import {
  type ErrorCode,
  fieldsOf,
  type LineOf,
  type Message,
  type MessageOf,
  type RequestType,
  replyTo,
} from '../../../shared-protocol/index.js';
import { RefusedError, WrongAnswerError } from '../errors.js';
import { knownTypeOf, whyNoAnswer } from './answer-sense.js';

/** A line may double what it carries; an answer of more lines than that has no end. */
const TIMES_DOUBLED = 2;

/** A request as its sender words it; the number is given here. */
export type Wish<Type extends RequestType = RequestType> = {
  [Key in Type]: Omit<MessageOf<Key>, 'id'>;
}[Type];

export interface AskOptions<Type extends RequestType = RequestType> {
  readonly signal?: AbortSignal | undefined;
  /** Called for each line before the end of an answer of many lines. */
  readonly take?: ((line: LineOf<Type>) => void) | undefined;
  /** Called when the request is sent again: an answer of several lines starts anew. */
  readonly again?: (() => void) | undefined;
  /** Called for a line that only another version can read. */
  readonly takeUnreadable?: ((line: string) => void) | undefined;
}

/** The board could not read what was sent, though it was right when it left: worth sending again. */
const DAMAGED: ReadonlySet<ErrorCode> = new Set(['bad-line', 'bad-crc']);

interface ReaderEvents {
  done(answer: Message): void;
  failed(error: Error): void;
  /** Asks again; false when that was done often enough. */
  repeat(): boolean;
  wrong(why: string): void;
}

/** Takes the lines of one answer, and nothing that does not belong to it. */
export class AnswerReader {
  readonly #path: string;
  readonly #wish: Wish;
  readonly #options: AskOptions;
  readonly #events: ReaderEvents;
  #lines = 0;
  /** Why a line of the answer that is coming in cannot be right. */
  #fault: string | undefined;

  constructor(path: string, wish: Wish, options: AskOptions, events: ReaderEvents) {
    this.#path = path;
    this.#wish = wish;
    this.#options = options;
    this.#events = events;
  }

  again(): void {
    this.#lines = 0;
    this.#fault = undefined;
    this.#options.again?.();
  }

  /** Lines of the answer are here: the board has read the request. */
  get isUnderWay(): boolean {
    return this.#lines > 0;
  }

  received(message: Message): void {
    if (message.type === 'error') {
      this.#refused(message);
      return;
    }
    const why = whyNoAnswer(this.#wish, message);
    const { lines = [] } = replyTo(this.#wish.type);
    if (lines.includes(message.type)) this.#takeLine(message as LineOf<RequestType>, why);
    else if (why !== undefined || this.#fault !== undefined) this.#wrong(why ?? this.#fault ?? '');
    else this.#events.done(message);
  }

  /** A line that cannot be right spoils the answer when it ends: asked again before, that end would end the next one. */
  #takeLine(line: LineOf<RequestType>, why: string | undefined): void {
    this.#fault ??= why;
    if (this.#hasRoom() && why === undefined) this.#options.take?.(line);
  }

  /** A line that says its type and number, and otherwise what this version does not know. */
  unreadable(line: string, why: string): void {
    const { takeUnreadable } = this.#options;
    const type = knownTypeOf(line);
    if (takeUnreadable === undefined || type !== undefined)
      this.#wrong(`'${type ?? 'something unknown'}' came that the schema does not allow (${why})`);
    else if (this.#hasRoom()) takeUnreadable(line);
  }

  #refused(message: MessageOf<'error'>): void {
    if (DAMAGED.has(message.code)) this.#events.repeat();
    else this.#events.failed(refusal(this.#wish, message));
  }

  /** Asking again is harmless, and what came may have been an answer to somebody before. */
  #wrong(why: string): void {
    this.#events.wrong(why);
    if (!this.#events.repeat()) this.#fail(why);
  }

  #hasRoom(): boolean {
    const { mostLines = 0 } = replyTo(this.#wish.type);
    this.#lines++;
    if (this.#lines <= mostLines * TIMES_DOUBLED) return true;
    this.#fail(`a list of more than ${mostLines} lines came`);
    return false;
  }

  #fail(why: string): void {
    this.#events.failed(new WrongAnswerError(this.#path, this.#wish.type, why));
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
