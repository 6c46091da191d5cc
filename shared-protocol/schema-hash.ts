import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { limits } from './limits.js';
import { messages, messageTypes, protocolVersion, type Setting, settingNames, settings } from './schema.js';
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

/** Everything that both sides must agree on, as one text. */
function describeSchema(): string {
  return JSON.stringify({
    protocolVersion,
    limits,
    messages: messageTypes.map((type) => [type, messages[type].role, fieldsOf(type)]),
    settings: settingNames.map((name) => {
      const { min, max, values, initial }: Setting = settings[name];
      return [name, min, max, values, initial];
    }),
  });
}

/** Eight hex digits that differ when the two sides might misread each other. */
export const schemaHash = createHash('sha256').update(describeSchema()).digest('hex').slice(0, 8);
