import { createHash } from 'node:crypto';
import { fieldsOf } from '../fields.js';
import { limits } from '../limits.js';
import { messages, messageTypes, protocolVersion, type Setting, settingNames, settings } from '../schema.js';

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
