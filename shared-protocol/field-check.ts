import { isText, NAME, type TextBounds } from './wire-text.js';
import type { WireFact } from './wire-types.js';

/** True when the field's schema allows the value. */
export type FieldCheck = (value: unknown) => boolean;

/** Printable ASCII that stands on the line as it is: no quote, no backslash. */
const PLAIN = /^[ !#-[\]-~]*$/;
const HEX = /^[0-9a-f]*$/;

/**
 * The schema's own verdict on a field, reached by way of its wire facts: every line of a log goes through here. Words
 * about what is wrong are left to the schema.
 */
export function fieldCheck(fact: WireFact): FieldCheck {
  switch (fact.kind) {
    case 'integer':
      return integerCheck(fact);
    case 'flag':
      return (value) => typeof value === 'boolean';
    case 'choice': {
      const options = new Set<unknown>(fact.options);
      return (value) => options.has(value);
    }
    case 'hex':
      return (value) => typeof value === 'string' && value.length === fact.digits && HEX.test(value);
    case 'text':
      return fact.form === 'name' ? nameCheck(fact) : textCheck(fact);
  }
}

function integerCheck({ min, max }: { readonly min: number; readonly max: number }): FieldCheck {
  return (value) =>
    Number.isSafeInteger(value) &&
    (value as number) >= min &&
    (value as number) <= max &&
    !Object.is(value, -0);
}

function nameCheck({ maxChars }: TextBounds): FieldCheck {
  return (value) => typeof value === 'string' && value.length <= maxChars && NAME.test(value);
}

function textCheck(bounds: TextBounds): FieldCheck {
  const plainChars = Math.min(bounds.maxChars, bounds.maxWireBytes);
  return (value) =>
    typeof value === 'string' && ((value.length <= plainChars && PLAIN.test(value)) || isText(value, bounds));
}
