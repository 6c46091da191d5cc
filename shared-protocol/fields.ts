import type { z } from 'zod';
import { messages } from './schema.js';
import { wireFacts } from './wire-types.js';

/** The fields of a message in the order of the wire, each with its wire facts. */
export function fieldsOf(type: keyof typeof messages) {
  return fieldsIn(type, messages[type].fields);
}

/** The same of fields that stand in no schema. */
export function fieldsIn(type: string, fields: z.core.$ZodLooseShape) {
  return Object.entries(fields).map(([name, schema]) => {
    const fact = wireFacts.get(schema);
    if (!fact) throw new Error(`${type}.${name} has no wire facts: make it with wire-types.ts`);
    return { name, fact };
  });
}
