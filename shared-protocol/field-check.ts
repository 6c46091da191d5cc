import type { z } from 'zod';
import { NAME, type WireFact, wireFacts } from './wire-types.js';

/** True when the field's schema allows the value. */
export type FieldCheck = (value: unknown) => boolean;

/** Printable ASCII that stands on the line as it is: no quote, no backslash. */
const PLAIN = /^[ !#-[\]-~]*$/;

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
    case 'text': {
      const most = Math.min(fact.maxChars, fact.maxWireBytes);
      const form = fact.form === 'name' ? NAME : PLAIN;
      return (value) =>
        typeof value === 'string' && value.length <= most && form.test(value) ? true : slow(value);
    }
  }
}
