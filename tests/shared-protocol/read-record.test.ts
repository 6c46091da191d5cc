import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { fieldsOf } from '../../shared-protocol/fields.js';
import { messages, messageTypes, readRecord } from '../../shared-protocol/index.js';
import { arbitraryMessage, seed } from './arbitrary-message.js';

const recordTypes = messageTypes.filter((type) => messages[type].role === 'record');
const valuesOf = (message: object) =>
  fieldsOf((message as { type: (typeof recordTypes)[number] }).type).map(
    ({ name }) => (message as Record<string, unknown>)[name],
  );
const strange = [
  null,
  -1,
  1.5,
  2 ** 32,
  '',
  'no-such-word',
  'x'.repeat(70),
  '\u0007',
  '\ud800',
  true,
  [],
  {},
];

describe('the reader of an archive, which is generated from the schema', () => {
  it('gives back any record of the log', () => {
    fc.assert(
      fc.property(arbitraryMessage(recordTypes), (message) => {
        expect(readRecord({ type: message.type, fields: valuesOf(message) })).toEqual({ ...message, id: 0 });
      }),
      { seed, numRuns: 1_000 },
    );
  });

  it('takes what the schema takes, and nothing else', () => {
    const anyField = fc.tuple(
      arbitraryMessage(recordTypes),
      fc.nat(20),
      fc.constantFrom<unknown>(...strange),
    );
    fc.assert(
      fc.property(anyField, ([message, place, value]) => {
        const shape: z.ZodRawShape = messages[message.type].fields;
        const names = Object.keys(shape);
        const fields = valuesOf(message).with(place % names.length, value);
        const named = Object.fromEntries(names.map((name, at) => [name, fields[at]]));
        const isAllowed = z.strictObject(shape).safeParse(named).success;
        expect(readRecord({ type: message.type, fields }) !== undefined).toBe(isAllowed);
      }),
      { seed, numRuns: 1_000 },
    );
  });

  it('knows each record by the names that it had before', () => {
    for (const type of recordTypes)
      for (const name of Object.values(messages[type].named)) {
        const [message] = fc.sample(arbitraryMessage([type]), { seed, numRuns: 1 });
        expect(readRecord({ type: name, fields: valuesOf(message!) })?.type).toBe(type);
      }
  });

  it('reads no other message, and no record with a field too many or too few', () => {
    expect(readRecord({ type: 'lens', fields: [1, 2, 3] })).toEqual({
      ...{ type: 'lens', id: 0, boot: 1, seq: 2, uptimeMs: 3 },
    });
    for (const fields of [[1, 2], [1, 2, 3, 4], []])
      expect(readRecord({ type: 'lens', fields })).toBeUndefined();
    for (const type of ['forget', 'constructor', '', 'toString'])
      expect(readRecord({ type, fields: [1] })).toBeUndefined();
  });
});
