import { type Message, type MessageOf, messages, type TypeOfRole } from '../../../shared-protocol/index.js';
import type { Link } from './link.js';

export type Notice = MessageOf<TypeOfRole<'notice'>>;

/** Notices kept for one reader that is slower than the board; the oldest go first. */
const LONGEST_QUEUE = 256;

/** The board's unasked-for notices from the moment this is made; a slow reader loses the oldest, which is counted. */
export class NoticeQueue {
  readonly #link: Link;
  readonly #notices: Notice[] = [];
  readonly #stopListening: () => void;
  #wake = () => {};

  constructor(link: Link) {
    this.#link = link;
    this.#stopListening = link.listen({
      received: (message) => {
        if (isNotice(message)) this.#keep(message);
      },
      unreadable: () => {},
      lost: () => this.#wake(),
    });
  }

  /** Ends with the signal, or when this side closes the board. @throws BoardLostError when the board is lost */
  async *read(signal?: AbortSignal): AsyncGenerator<Notice, void, void> {
    const onAbort = () => this.#wake();
    signal?.addEventListener('abort', onAbort);
    try {
      for (;;) {
        const notice = this.#notices.shift();
        if (notice !== undefined) yield notice;
        else if (signal?.aborted || this.#link.closed) return;
        else if (this.#link.end !== undefined) throw this.#link.end;
        else await this.#somethingHappens();
      }
    } finally {
      signal?.removeEventListener('abort', onAbort);
    }
  }

  stop(): void {
    this.#stopListening();
  }

  #keep(notice: Notice): void {
    this.#notices.push(notice);
    if (this.#notices.length > LONGEST_QUEUE) {
      this.#notices.shift();
      this.#link.counters.noticesDropped++;
    }
    this.#wake();
  }

  #somethingHappens(): Promise<void> {
    return new Promise((resolve) => {
      this.#wake = resolve;
    });
  }
}

/** Unasked-for, and so without a number. */
export function isNotice(message: Message): message is Notice {
  return message.id === 0 && messages[message.type].role === 'notice';
}
