import { fieldsOf } from '../../../shared-protocol/fields.js';
import { encodeLine, type Message, type MessageType, messageTypes } from '../../../shared-protocol/index.js';
import { wireText } from '../../../shared-protocol/wire-text.js';
import type { WireFact } from '../../../shared-protocol/wire-types.js';
import type { Random } from '../../setup/random.js';

const MOST_ID = 0xffff;
const LETTERS = [
  'a',
  'Z',
  '0',
  ' ',
  '-',
  '"',
  '\\',
  '/',
  'é',
  'ß',
  '顔',
  '\u{1f600}',
  '\u2028',
  '\uffff',
  '=',
];
const SLUG_PARTS = ['a', 'low', '7', 'tide', '0x', 'skelder', 'mere'];

/** A message that the schema allows, often with fields at their bounds; of one of `types`. */
export function randomMessage(
  random: Random,
  types: readonly MessageType[] = messageTypes,
  id = random.below(MOST_ID + 1),
): Message {
  const type = random.pick(types);
  const fields = fieldsOf(type).map(({ name, fact }) => [name, randomField(random, fact)]);
  return { type, id, ...Object.fromEntries(fields) } as Message;
}

export function randomField(random: Random, fact: WireFact): unknown {
  switch (fact.kind) {
    case 'integer':
      return random.pick([
        fact.min,
        fact.max,
        fact.min + Math.floor(random.share() * (fact.max - fact.min + 1)),
      ]);
    case 'flag':
      return random.chance(0.5);
    case 'choice':
      return random.pick(fact.options);
    case 'hex':
      return Array.from({ length: fact.digits }, () => random.below(16).toString(16)).join('');
    case 'text':
      return fact.form === 'name' ? randomSlug(random, fact.maxChars) : randomText(random, fact);
  }
}

function randomSlug(random: Random, maxChars: number): string {
  const parts = Array.from({ length: random.below(4) }, () => random.pick(SLUG_PARTS));
  return parts.join('-').slice(0, maxChars).replace(/-$/, '');
}

function randomText(random: Random, { maxChars, maxWireBytes }: WireFact & { kind: 'text' }): string {
  const length = random.pick([0, 1, maxChars, random.below(maxChars + 1)]);
  let text = '';
  for (let count = 0; count < length; count++) {
    const longer = text + random.pick(LETTERS);
    if (wireText(longer).length > maxWireBytes) break;
    text = longer;
  }
  return text;
}

/** The longest line that the schema allows: every field of every message as wide as it goes. */
export function longestLine(): string {
  const lines = messageTypes.map((type) => {
    const fields = fieldsOf(type).map(({ name, fact }) => [name, widestField(fact)]);
    return encodeLine({ type, id: MOST_ID, ...Object.fromEntries(fields) } as Message);
  });
  return lines.reduce((longest, line) => (line.length > longest.length ? line : longest));
}

function widestField(fact: WireFact): unknown {
  switch (fact.kind) {
    case 'integer':
      return String(fact.min).length > String(fact.max).length ? fact.min : fact.max;
    case 'flag':
      return false;
    case 'choice':
      return fact.options.reduce((widest, word) => (word.length > widest.length ? word : widest));
    case 'hex':
      return 'f'.repeat(fact.digits);
    case 'text':
      return fact.form === 'name' ? 'x'.repeat(fact.maxChars) : widestText(fact);
  }
}

/** Six bytes each on the line as far as that goes, plain letters for the rest. */
function widestText({ maxChars, maxWireBytes }: WireFact & { kind: 'text' }): string {
  const wide = Math.min(maxChars, Math.floor((maxWireBytes - maxChars) / 5));
  return 'é'.repeat(wide) + 'x'.repeat(Math.min(maxChars - wide, maxWireBytes - wide * 6));
}
