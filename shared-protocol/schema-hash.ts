import { createHash } from 'node:crypto';
import { limits } from './limits.js';
import { messages, messageTypes, protocolVersion, settings } from './schema.js';
import { wireFacts } from './wire-types.js';

/** The fields of a message in the order of the wire, each with its wire facts. */
export function fieldsOf(type: keyof typeof messages) {
  return Object.entries(messages[type].fields).map(([name, schema]) => {
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
    settings: Object.entries(settings).map(([name, { min, max, initial }]) => [name, min, max, initial]),
  });
}

/** Eight hex digits that differ when the two sides might misread each other. */
export const schemaHash = createHash('sha256').update(describeSchema()).digest('hex').slice(0, 8);
