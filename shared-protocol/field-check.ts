import type { z } from 'zod';
import { NAME, type WireFact, wireFacts } from './wire-types.js';

/** True when the field's schema allows the value. */
export type FieldCheck = (value: unknown) => boolean;

/** Printable ASCII that stands on the line as it is: no quote, no backslash. */
const PLAIN = /^[ !#-[\]-~]*$/;
/** No control characters, and no characters of two UTF-16 units, which may be broken. */
const ONE_UNIT_EACH = /^[ -~\u00a0-\ud7ff\ue000-\uffff]*$/;
/** What such a character takes on the line at the most. */
const ESCAPED_BYTES = 6;

/**
 * The schema's own verdict, reached by way of its wire facts where that is quicker: every line of a log goes through
 * here. Words about what is wrong are left to the schema.
 */
export function fieldCheck(schema: z.ZodType): FieldCheck {
  const fact = wireFacts.get(schema);
  const slow: FieldCheck = (value) => schema.safeParse(value).success;
  return fact === undefined ? slow : quickCheck(fact, slow);
}

function quickCheck(fact: WireFact, slow: FieldCheck): FieldCheck {
  switch (fact.kind) {
    case 'integer': {
      const { min, max } = fact;
      return (value) =>
        Number.isSafeInteger(value) &&
        (value as number) >= min &&
        (value as number) <= max &&
        !Object.is(value, -0);
    }
    case 'flag':
      return (value) => typeof value === 'boolean';
    case 'choice': {
      const options = new Set<unknown>(fact.options);
      return (value) => options.has(value);
    }
    case 'hex':
      return slow;
    case 'text':
      return fact.form === 'name' ? quickName(fact.maxChars, slow) : quickText(fact, slow);
  }
}

function quickName(maxChars: number, slow: FieldCheck): FieldCheck {
  return (value) =>
    (typeof value === 'string' && value.length <= maxChars && NAME.test(value)) || slow(value);
}

function quickText({ maxChars, maxWireBytes }: { maxChars: number; maxWireBytes: number }, slow: FieldCheck) {
  const plainChars = Math.min(maxChars, maxWireBytes);
  const escapedChars = Math.min(maxChars, Math.floor(maxWireBytes / ESCAPED_BYTES));
  return (value: unknown) =>
    (typeof value === 'string' &&
      ((value.length <= plainChars && PLAIN.test(value)) ||
        (value.length <= escapedChars && ONE_UNIT_EACH.test(value)))) ||
    slow(value);
}
