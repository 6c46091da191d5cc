import fc from 'fast-check';
import { fieldsOf } from '../../shared-protocol/fields.js';
import { limits, type Message, type MessageType, messageTypes } from '../../shared-protocol/index.js';
import { wireText } from '../../shared-protocol/wire-text.js';
import type { WireFact } from '../../shared-protocol/wire-types.js';

const character = fc.oneof(
  fc.integer({ min: 0x20, max: 0x7e }),
  fc.integer({ min: 0xa0, max: 0xd7ff }),
  fc.integer({ min: 0xe000, max: 0xffff }),
  fc.integer({ min: 0x1_0000, max: 0x10_ffff }),
);

/** Any text that the field allows, up to and often at its bounds. */
function arbitraryText(maxChars: number, maxWireBytes: number): fc.Arbitrary<string> {
  return fc.array(character, { maxLength: maxChars, size: 'max' }).map((points) => {
    let text = '';
    for (const point of points) {
      const longer = text + String.fromCodePoint(point);
      if (wireText(longer).length <= maxWireBytes) text = longer;
    }
    return text;
  });
}

const slugPart = fc.stringMatching(/^[a-z0-9]{1,6}$/);

function arbitrarySlug(maxChars: number): fc.Arbitrary<string> {
  return fc
    .array(slugPart, { maxLength: 4 })
    .map((parts) => parts.join('-').slice(0, maxChars).replace(/-$/, ''));
}

export function arbitraryField(fact: WireFact): fc.Arbitrary<unknown> {
  switch (fact.kind) {
    case 'integer':
      return fc.oneof(fc.integer({ min: fact.min, max: fact.max }), fc.constantFrom(fact.min, fact.max));
    case 'flag':
      return fc.boolean();
    case 'choice':
      return fc.constantFrom(...fact.options);
    case 'hex':
      return fc.stringMatching(new RegExp(`^[0-9a-f]{${fact.digits}}$`));
    case 'text':
      return fact.form === 'name'
        ? arbitrarySlug(fact.maxChars)
        : arbitraryText(fact.maxChars, fact.maxWireBytes);
  }
}

/** Any message that the schema allows, of one type or of all. */
export function arbitraryMessage(types: readonly MessageType[] = messageTypes): fc.Arbitrary<Message> {
  return fc.constantFrom(...types).chain((type) =>
    fc
      .record({
        id: fc.integer({ min: 0, max: 0xffff }),
        ...Object.fromEntries(fieldsOf(type).map(({ name, fact }) => [name, arbitraryField(fact)])),
      })
      .map((fields) => ({ type, ...fields }) as unknown as Message),
  );
}

export const seed = 20270305;
export const lineLimit = limits.lineBytes;
