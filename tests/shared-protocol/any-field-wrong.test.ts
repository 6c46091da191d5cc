import { crc32 } from 'node:zlib';
import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { elementsReader } from '../../shared-protocol/elements-reader.js';
import { fieldsOf } from '../../shared-protocol/fields.js';
import {
  decodeLine,
  encodeLine,
  limits,
  type Message,
  type MessageType,
  messages,
  messageTypes,
} from '../../shared-protocol/index.js';
import type { WireFact } from '../../shared-protocol/wire-types.js';
import { arbitraryMessage, seed } from './arbitrary-message.js';

// A message in which one field is not what it should be, or only just is, judged by zod, by the codec's quick checks with
// and without code of its own, and by what they say.

/** What lies just inside the bounds of a field and just outside, and what no field of its kind is. */
function nearby(fact: WireFact): readonly unknown[] {
  switch (fact.kind) {
    case 'integer':
      return [fact.min - 1, fact.min, fact.max, fact.max + 1, fact.min + 0.5, -0, String(fact.min)];
    case 'flag':
      return [0, 1, 'true', true];
    case 'choice':
      return [0, '', fact.options.at(-1), `${fact.options[0]}x`, 'toString'];
    case 'hex':
      return ['a'.repeat(fact.digits - 1), 'f'.repeat(fact.digits + 1), 'G'.repeat(fact.digits), 7];
    case 'text':
      return [
        'x'.repeat(fact.maxChars),
        'x'.repeat(fact.maxChars + 1),
        '\u0085',
        '"'.repeat(fact.maxChars),
        7,
      ];
  }
}

interface Trial {
  readonly message: Message;
  readonly name: string;
  readonly value: unknown;
}

const strange = [null, [], {}, true, 2 ** 53, 'no such thing', '\ud800', 'é'.repeat(12)];
const withFields = messageTypes.filter((type) => fieldsOf(type).length > 0);

const trial: fc.Arbitrary<Trial> = arbitraryMessage(withFields).chain((message) =>
  fc.constantFrom(...fieldsOf(message.type)).chain(({ name, fact }) =>
    fc.record({
      message: fc.constant(message),
      name: fc.constant(name),
      value: fc.constantFrom(...nearby(fact), ...strange),
    }),
  ),
);

const schemas = new Map<MessageType, z.ZodObject>(
  messageTypes.map((type) => [type, z.strictObject(messages[type].fields)]),
);
const elementsOf = (message: Message) => [
  message.type,
  message.id,
  ...fieldsOf(message.type).map(({ name }) => (message as unknown as Record<string, unknown>)[name]),
];

/** A line with the checksum of zlib; without its newline, as the codec takes it. */
function lineOf(elements: readonly unknown[]): string {
  const ascii = (unit: string) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, '0')}`;
  const body = JSON.stringify(elements)
    .slice(0, -1)
    .replace(/[\u007f-\uffff]/g, ascii);
  return `${body},"${crc32(body).toString(16).padStart(8, '0')}"]`;
}

describe('a message with one field that is another', () => {
  it('is taken where the schema takes it; else each side says which field it is, and only that', () => {
    const check = ({ message, name, value }: Trial) => {
      const { type, id, ...fields } = { ...message, [name]: value };
      const isAllowed = schemas.get(type)!.safeParse(fields).success;
      const changed = { type, id, ...fields } as Message;
      // JSON has one zero only: on a line, minus zero is a zero.
      const line = lineOf(elementsOf(changed));
      fc.pre(line.length < limits.lineBytes);
      const decoded = decodeLine(line);
      if (!Object.is(value, -0)) expect(decoded.ok).toBe(isAllowed);
      if (isAllowed && !Object.is(value, -0)) {
        expect(decoded).toEqual({ ok: true, message: changed });
        expect(encodeLine(changed)).toBe(`${line}\n`);
      }
      if (isAllowed || decoded.ok) return;
      expect(decoded).toMatchObject({ fault: 'bad-field', id });
      expect([...decoded.why.matchAll(/→ at (\w+)/g)].map(([, at]) => at)).toEqual(
        decoded.why.match(/✖/g)!.map(() => name),
      );
      expect(() => encodeLine(changed)).toThrow(decoded.why);
    };
    fc.assert(fc.property(trial, check), { seed, numRuns: 1_500 });
  });

  describe('where no code may be made of text', () => {
    afterEach(() => void z.config({ jitless: false }));

    const readers = (type: MessageType) => elementsReader(type, messages[type].fields);

    it('none is made, and the same is taken', () => {
      const quick = new Map(messageTypes.map((type) => [type, readers(type)]));
      z.config({ jitless: true });
      const made = vi.spyOn(globalThis, 'Function');
      const plain = new Map(messageTypes.map((type) => [type, readers(type)]));
      const { length: timesMade } = made.mock.calls;
      made.mockRestore();
      expect(timesMade).toBe(0);
      const check = ({ message, name, value }: Trial) => {
        const elements = elementsOf({ ...message, [name]: value } as Message);
        expect(plain.get(message.type)!(elements)).toEqual(quick.get(message.type)!(elements));
      };
      fc.assert(fc.property(trial, check), { seed, numRuns: 1_000 });
    });

    it('it is made elsewhere: once for each type of message', () => {
      const made = vi.spyOn(globalThis, 'Function');
      for (const type of messageTypes) readers(type);
      const { length: timesMade } = made.mock.calls;
      made.mockRestore();
      expect(timesMade).toBe(messageTypes.length);
    });
  });
});
