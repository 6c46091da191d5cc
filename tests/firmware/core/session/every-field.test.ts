import { expect, it } from 'vitest';
import { fieldsOf } from '../../../../shared-protocol/fields.js';
import { type Message, type MessageType, messages, messageTypes } from '../../../../shared-protocol/index.js';
import type { WireFact } from '../../../../shared-protocol/wire-types.js';
import { Conversation, readAll, sealed } from './conversation.js';

// Whoever writes a laptop's program looks for the mistake where the board says that it is; the schema says where that must be.

const requests = messageTypes.filter(
  (type) => messages[type].role === 'request' && fieldsOf(type).length > 0,
);

/** One that the field allows, as it stands on the line. */
function fine(fact: WireFact): unknown {
  switch (fact.kind) {
    case 'integer':
      return fact.min;
    case 'flag':
      return true;
    case 'choice':
      return fact.options[0];
    case 'hex':
      return '0'.repeat(fact.digits);
    case 'text':
      return '';
  }
}

/** What no such field can be, by its kind and its bounds. */
function wrong(fact: WireFact): readonly unknown[] {
  const ofAnotherKind = fact.kind === 'integer' ? ['7', true] : [7, fact.kind === 'flag' ? 'true' : false];
  switch (fact.kind) {
    case 'integer':
      return [...ofAnotherKind, fact.min - 1, fact.max + 1];
    case 'flag':
      return ofAnotherKind;
    case 'choice':
      return [...ofAnotherKind, '', `${fact.options[0]}x`];
    case 'hex':
      return [...ofAnotherKind, '0'.repeat(fact.digits - 1), 'A'.repeat(fact.digits)];
    case 'text':
      return [...ofAnotherKind, '\u0007', 'x'.repeat(fact.maxChars + 1)];
  }
}

/** The line in which the field at `place` is `value`, and all others are fine; it may end behind that field. */
function lineWith(type: MessageType, id: number, place: number, value: unknown, endsThere: boolean): string {
  const fields = fieldsOf(type).map(({ fact }, at) => (at === place ? value : fine(fact)));
  return sealed(
    JSON.stringify([type, id, ...fields.slice(0, endsThere ? place + 1 : fields.length)]).slice(0, -1),
  );
}

const isNarrow = (end: number) => end === (end | 0);

/** By the schema: the field's place, and its ends where the error's own fields can say them. */
function refusalOf(fact: WireFact, place: number): object {
  const { min, max } = fact.kind === 'integer' ? fact : { min: 0, max: 0 };
  const ends = isNarrow(min) && isNarrow(max) ? { low: min, high: max } : { low: 0, high: 0 };
  return { type: 'error', code: 'bad-field', field: place + 1, ...ends };
}

it.each(requests)(
  'a field of %s that is wrong is named, with its ends, whatever was wrong before',
  (type) => {
    const board = Conversation.greeted();
    const heard = (line: string): Message[] => readAll(board.raw(line));
    fieldsOf(type).forEach(({ fact }, place) => {
      for (const value of wrong(fact))
        for (const endsThere of [false, true]) {
          // Another field, which has ends of its own: the second of `collect`, or the first of `recipe-fine`.
          const before =
            place === 1 ? lineWith('recipe-fine', 8, 0, 0, false) : lineWith('collect', 8, 1, 0, false);
          expect(heard(before)).toMatchObject([{ id: 8, code: 'bad-field', low: 1 }]);
          const line = lineWith(type, 9, place, value, endsThere);
          expect(heard(line), line).toMatchObject([{ id: 9, ...refusalOf(fact, place) }]);
        }
    });
  },
);

it.each(requests)('a field of %s that lacks is named', (type) => {
  const board = Conversation.greeted();
  fieldsOf(type).forEach(({ fact }, place) => {
    const fields = fieldsOf(type).slice(0, place);
    const elements = [type, 9, ...fields.map((field) => fine(field.fact))];
    const line = sealed(JSON.stringify(elements).slice(0, -1));
    expect(readAll(board.raw(line)), line).toMatchObject([{ id: 9, ...refusalOf(fact, place) }]);
  });
});
