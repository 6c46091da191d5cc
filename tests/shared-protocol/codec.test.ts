import { crc32 } from 'node:zlib';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { decodeLine, EncodeError, encodeLine, limits, type Message } from '../../shared-protocol/index.js';
import { arbitraryMessage, seed } from './arbitrary-message.js';
import { type CodecEcho, codecEcho } from './codec-echo.js';

let core: CodecEcho;
beforeAll(() => {
  core = codecEcho();
});

function send(message: Message): Message {
  const line = encodeLine(message);
  const rewritten = core.echo(line);
  expect(rewritten, `core's answer to ${line}`).toBe(line);
  const decoded = decodeLine(String(rewritten).slice(0, -1));
  if (!decoded.ok) throw new Error(`${decoded.fault}: ${decoded.why}`);
  return decoded.message;
}

describe('a line that either side writes, the other reads', () => {
  it('for any message: host -> core -> host is the identity, byte for byte', () => {
    fc.assert(
      fc.property(arbitraryMessage(), (message) => {
        expect(send(message)).toEqual(message);
      }),
      { seed, numRuns: 5_000 },
    );
  });

  it('for labels in any script', () => {
    for (const value of ['', 'Gesicht, außen', 'лицо', '顔', '😀 sky', 'quote " and \\ slash', 'é']) {
      const message: Message = { type: 'recipe-text', id: 7, which: 'title', value };
      expect(send(message)).toEqual(message);
    }
  });
});

describe('a line on the wire', () => {
  const line = encodeLine({ type: 'collect', id: 3, fromSeq: 17, count: 64 });

  it('is JSON in ASCII with its CRC-32 last, as zlib computes it', () => {
    expect(line).toMatch(/^\["collect",3,17,64,"[0-9a-f]{8}"\]\n$/);
    const body = line.slice(0, line.lastIndexOf(','));
    expect(Number.parseInt(JSON.parse(line).at(-1), 16)).toBe(crc32(body));
  });

  it('is refused by the host when any one of its bits is flipped', () => {
    const bytes = Buffer.from(line.slice(0, -1));
    for (let bit = 0; bit < bytes.length * 8; bit++) {
      const flipped = Buffer.from(bytes);
      flipped[bit >> 3]! ^= 1 << (bit & 7);
      expect(decodeLine(flipped.toString('latin1')).ok, `bit ${bit}`).toBe(false);
    }
  });

  it('is refused when it is longer than both sides allow', () => {
    expect(decodeLine(`["ping",1,"${'0'.repeat(limits.lineBytes)}"]`)).toMatchObject({ fault: 'bad-line' });
  });
});

describe('what the schema does not allow', () => {
  const cases: [unknown, RegExp][] = [
    [{ type: 'collect', id: 1, fromSeq: -1, count: 1 }, /fromSeq/],
    [{ type: 'collect', id: 1, fromSeq: 1, count: 65 }, /count/],
    [{ type: 'collect', id: 70_000, fromSeq: 1, count: 1 }, /id 70000/],
    [{ type: 'collect', id: 1, fromSeq: 1 }, /count/],
    [{ type: 'recipe-remove', id: 1, name: 'Not A Slug' }, /name/],
    [{ type: 'recipe-text', id: 1, which: 'title', value: 'a\u001b[2J' }, /control characters/],
    [{ type: 'recipe-text', id: 1, which: 'title', value: '\ud800' }, /well-formed/],
    [{ type: 'recipe-text', id: 1, which: 'title', value: 'x'.repeat(25) }, /at most 24 characters/],
    [{ type: 'nonsense', id: 1 }, /no message/],
  ];
  it.each(cases)('is not encoded: %j', (message, words) => {
    expect(() => encodeLine(message as Message)).toThrow(EncodeError);
    expect(() => encodeLine(message as Message)).toThrow(words);
  });

  /** A line with a right checksum around whatever stands in it. */
  const sealed = (body: string) => `${body},"${crc32(body).toString(16).padStart(8, '0')}"]\n`;

  it.each([
    ['a leading zero', '["collect",1,01,1'],
    ['minus zero', '["collect",1,-0,1'],
    ['a fraction', '["collect",1,1.5,1'],
    ['white space', '["collect",1, 1,1'],
    ['a number out of range', '["collect",1,4294967296,1'],
    ['a number far out of range', '["collect",1,99999999999999999999999999,1'],
    ['a missing field', '["collect",1,1'],
    ['a field too many', '["collect",1,1,1,1'],
    ['a string for a number', '["collect",1,"1",1'],
    ['a word that is not in the list', '["choose",1,"dance",""'],
    ['an unfinished word', '["choose",1,"none'],
    ['a slug with a capital', '["recipe-remove",1,"Low"'],
    ['a slug that ends in a hyphen', '["recipe-remove",1,"low-"'],
    ['a slug with two hyphens', '["recipe-remove",1,"lo--w"'],
    ['a lone surrogate', '["recipe-text",1,"title","\\ud800"'],
    ['a lone low surrogate', '["recipe-text",1,"title","\\udc00"'],
    ['a surrogate with a stranger', '["recipe-text",1,"title","\\ud800\\u0041"'],
    ['a control character', '["recipe-text",1,"title","\\u0007"'],
    ['a short escape of one', '["recipe-text",1,"title","\\n"'],
    ['a raw byte outside ASCII', '["recipe-text",1,"title","\xe9"'],
    ['a text too long', `["recipe-text",1,"title","${'x'.repeat(25)}"`],
    ['an unfinished escape', '["recipe-text",1,"title","\\u00'],
    ['an object', '["recipe-text",1,"title",{}'],
  ])('is refused by the core, and the core goes on: %s', (_, body) => {
    expect(core.echo(sealed(body))).toBeLessThan(0);
    const fine = encodeLine({ type: 'ping', id: 9 });
    expect(core.echo(fine)).toBe(fine);
  });

  it('never stops the core: random elements are read or refused', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary-ascii', maxLength: 200 }), (text) => {
        const answer = core.echo(`[${text},"00000000"]\n`);
        expect(typeof answer === 'number' || answer.endsWith('\n')).toBe(true);
      }),
      { seed, numRuns: 5_000 },
    );
  });
});
