import { type Message, type MessageOf, messages, type TypeOfRole } from '../../shared-protocol/index.js';
import type { Link } from './link.js';

export type Notice = MessageOf<TypeOfRole<'notice'>>;

/** Notices kept for one reader that is slower than the board; the oldest go first. */
const LONGEST_QUEUE = 256;

/**
 * The board's unasked-for notices from now on. Ends with the signal; ends with the link's error when the board is
 * lost. A slow reader loses the oldest, which is counted.
 */
export async function* readNotices(link: Link, signal?: AbortSignal): AsyncGenerator<Notice, void, void> {
  const queue: Notice[] = [];
  let wake = () => {};
  const stopListening = link.listen({
    received: (message) => {
      if (!isNotice(message)) return;
      queue.push(message);
      if (queue.length > LONGEST_QUEUE) {
        queue.shift();
        link.counters.noticesDropped++;
      }
      wake();
    },
    unreadable: () => {},
    lost: () => wake(),
  });
  const onAbort = () => wake();
  signal?.addEventListener('abort', onAbort);
  try {
    for (;;) {
      const notice = queue.shift();
      if (notice !== undefined) yield notice;
      else if (signal?.aborted || link.closed) return;
      else if (link.end !== undefined) throw link.end;
      else
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
    }
  } finally {
    stopListening();
    signal?.removeEventListener('abort', onAbort);
  }
}

function isNotice(message: Message): message is Notice {
  return messages[message.type].role === 'notice';
}
