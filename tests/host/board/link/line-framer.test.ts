import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LineFramer } from '../../../../host/board/link/line-framer.js';
import { decodeLine, encodeLine, limits, messageTypes } from '../../../../shared-protocol/index.js';
import { randomMessage } from '../../../proof/fuzz/random-message.js';
import { Random } from '../../../setup/random.js';
import { arbitraryMessage, seed } from '../../../shared-protocol/arbitrary-message.js';

function frame(...chunks: (string | Buffer)[]): { lines: string[]; discardedBytes: number } {
  const lines: string[] = [];
  const framer = new LineFramer((line) => lines.push(line));
  for (const chunk of chunks) framer.feed(Buffer.from(chunk as string, 'latin1'));
  framer.end();
  return { lines, discardedBytes: framer.discardedBytes };
}

const one = encodeLine({ type: 'recipe-text', id: 7, which: 'title', value: 'außen "\\ 顔' });
const other = encodeLine({ type: 'collect', id: 8, fromSeq: 17, count: 64 });

describe('the framer', () => {
  it('finds the same lines wherever the bytes are cut, and glued to their neighbours', () => {
    const text = one + other;
    for (let cut = 0; cut <= text.length; cut++) {
      expect(frame(text.slice(0, cut), text.slice(cut)).lines).toEqual([one.trim(), other.trim()]);
    }
  });

  it('finds a line of every message there is, wherever it is cut', () => {
    const random = new Random(seed);
    const sent = messageTypes.map((type) => randomMessage(random, [type]));
    const text = sent.map((message) => encodeLine(message)).join('');
    const { lines } = frame(text);
    expect(lines.map((line) => decodeLine(line))).toEqual(sent.map((message) => ({ ok: true, message })));
    for (let cut = 0; cut <= text.length; cut++) {
      if (frame(text.slice(0, cut), text.slice(cut)).lines.join() !== lines.join())
        expect.fail(`cut after ${cut} bytes of ${text}`);
    }
  });

  it('finds them in chunks of any size', () => {
    fc.assert(
      fc.property(
        fc.array(arbitraryMessage(), { minLength: 1, maxLength: 5 }),
        fc.array(fc.nat(300), { maxLength: 20 }),
        (messages, cuts) => {
          const text = messages.map(encodeLine).join('');
          const places = [0, ...cuts.map((cut) => cut % text.length).sort((a, b) => a - b), text.length];
          const chunks = places.slice(1).map((end, at) => text.slice(places[at], end));
          const decoded = frame(...chunks).lines.map((line) => decodeLine(line));
          expect(decoded).toEqual(messages.map((message) => ({ ok: true, message })));
        },
      ),
      { seed, numRuns: 500 },
    );
  });

  it('drops a carriage return before the newline', () => {
    expect(frame('one\r\ntwo\n')).toMatchObject({ lines: ['one', 'two'] });
  });

  it('never hands out a line that was not finished, and counts it', () => {
    expect(frame('one\ntwo')).toEqual({ lines: ['one'], discardedBytes: 3 });
  });

  it('keeps no more of a line than shows that it is too long, and goes on with the next', () => {
    const long = 'x'.repeat(100_000);
    for (const size of [1, 100, 241, 242, 5000, 200_000]) {
      const text = `one\n${long}\ntwo\n`;
      const chunks = Array.from({ length: Math.ceil(text.length / size) }, (_, at) =>
        text.slice(at * size, (at + 1) * size),
      );
      const { lines, discardedBytes } = frame(...chunks);
      expect(lines.map((line) => line.length)).toEqual([3, limits.lineBytes + 1, 3]);
      expect(discardedBytes).toBe(long.length - limits.lineBytes - 1);
      expect(decodeLine(lines[1]!)).toMatchObject({ fault: 'bad-line' });
    }
  });

  it('keeps bytes as they are, so that a checksum sees what came', () => {
    expect(frame(Buffer.from([0xff, 0x00, 0xc3, 0x0a])).lines).toEqual(['\xff\x00\xc3']);
  });
});
