import {
  encodeLine,
  type Message,
  type MessageOf,
  protocolVersion,
  schemaHash,
  version,
} from '../../../shared-protocol/index.js';
import { NoBoardError, type SpokenVersion } from '../errors.js';
import type { Link } from './link.js';
import type { LinkSetup } from './link-options.js';
import type { Requests } from './requests.js';

export type Welcome = MessageOf<'welcome'>;

/** What this copy of the library speaks. */
export const laptopVersion: SpokenVersion = { protocol: protocolVersion, schemaHash, version };

/**
 * Says hello until the board answers it: opening the port may have reset it, so a first hello may meet nobody. A
 * bare newline goes first, to end whatever the board has half received. Nothing else that arrives is believed.
 * @throws NoBoardError when nothing valid came in time, BoardLostError when the port went away meanwhile.
 */
export function sayHello(
  link: Link,
  requests: Requests,
  { clock, timing }: LinkSetup,
  signal?: AbortSignal,
): Promise<Welcome> {
  const asked = new Set<number>();
  const startMs = clock.nowMs();
  let gapMs = timing.helloFirstGapMs;
  let cancel = () => {};
  let stopListening = () => {};
  return new Promise<Welcome>((resolve, reject) => {
    signal?.throwIfAborted();
    const say = () => {
      if (clock.nowMs() - startMs >= timing.helloMs) return reject(nobody(link));
      const id = requests.takeId();
      asked.add(id);
      link.send(`\n${helloLine(id)}`);
      cancel = clock.after(gapMs, say);
      gapMs = Math.min(gapMs * 2, timing.helloLongestGapMs);
    };
    stopListening = link.listen({
      received: (message: Message) => {
        if (message.type === 'welcome' && asked.has(message.id)) resolve(message);
      },
      unreadable: () => {},
      lost: reject,
    });
    signal?.addEventListener('abort', () => reject(signal.reason), { once: true });
    say();
  }).finally(() => {
    cancel();
    stopListening();
  });
}

function helloLine(id: number): string {
  return encodeLine({ type: 'hello', id, protocol: protocolVersion, schemaHash, hostVersion: version });
}

function nobody({ path, counters, bytesInNoLine }: Link): NoBoardError {
  const lines = counters.linesReceived + counters.badLines + counters.badCrcs + counters.unreadable;
  const [outcome, hint] = strangerWords(lines, bytesInNoLine);
  return new NoBoardError(`no board answered at ${path}: ${hint}`, [{ path, outcome }]);
}

function strangerWords(lines: number, bytesInNoLine: number): [outcome: string, hint: string] {
  if (lines > 0)
    return [
      'something else answers',
      `${lines} lines came back, none of them an answer: another device, or a wrong baud rate`,
    ];
  if (bytesInNoLine > 0)
    return [
      'something else answers',
      `${bytesInNoLine} bytes came back and no line among them: a wrong baud rate, or no board`,
    ];
  return [
    'silent',
    'nothing came back: is it powered, is this the right port, are the two data wires crossed?',
  ];
}
