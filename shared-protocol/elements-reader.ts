import { z } from 'zod';
import { type FieldCheck, fieldCheck } from './field-check.js';
import { fieldsIn } from './fields.js';
import type { Message, MessageType } from './schema.js';

/** Where the fields begin among a line's elements, behind its type and id. */
export const FIRST_FIELD = 2;

/** The message that a line's elements make; undefined when one of its fields is not what the schema allows. */
export type ElementsReader = (elements: readonly unknown[]) => Message | undefined;

/**
 * A reader for one type of message: code of its own where that may be made, since the engine then knows the shape of
 * what it makes, which is three times as fast as filling in field after field by name.
 */
export function elementsReader(type: MessageType, fields: z.ZodRawShape): ElementsReader {
  const checks = fieldsIn(type, fields).map(({ fact }) => fieldCheck(fact));
  const names = Object.keys(fields);
  return mayMakeCode() ? codeFor(type, names, checks) : plainReader(type, names, checks);
}

/** A page under a content security policy may not, and says so to zod: `z.config({ jitless: true })`. */
function mayMakeCode(): boolean {
  return z.config().jitless !== true && z.core.util.allowsEval.value;
}

function codeFor(type: MessageType, names: readonly string[], checks: readonly FieldCheck[]): ElementsReader {
  const element = (at: number) => `elements[${at + FIRST_FIELD}]`;
  const allowed = names.map((_, at) => `checks[${at}](${element(at)})`).join(' && ') || 'true';
  const values = names.map((name, at) => `, ${JSON.stringify(name)}: ${element(at)}`).join('');
  const made = `{ type: ${JSON.stringify(type)}, id: elements[1]${values} }`;
  return new Function('checks', `return (elements) => (${allowed} ? ${made} : undefined);`)(checks);
}

function plainReader(
  type: MessageType,
  names: readonly string[],
  checks: readonly FieldCheck[],
): ElementsReader {
  return (elements) => {
    if (!checks.every((check, at) => check(elements[at + FIRST_FIELD]))) return undefined;
    const values = names.map((name, at) => [name, elements[at + FIRST_FIELD]]);
    return { type, id: elements[1], ...Object.fromEntries(values) } as Message;
  };
}
