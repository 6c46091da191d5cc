import { fieldsOf } from '../fields.js';
import type { MessageType } from '../schema.js';
import { layOut } from './layout.js';

/**
 * A message of whole numbers and texts as the record that the core has of it (see layout.ts), little-endian.
 * @throws Error for a field that is missing or neither.
 */
export function recordBytes(type: MessageType, values: Readonly<Record<string, number | string>>): Buffer {
  const { slots, bytes } = layOut(fieldsOf(type));
  const record = Buffer.alloc(bytes);
  for (const { name, stored, offset, bytes: width } of slots) {
    const value = values[name];
    if (typeof value === 'number' && stored !== 'text') {
      record.writeUIntLE(value, offset, width);
    } else if (typeof value === 'string' && stored === 'text') {
      record.writeUInt8(Buffer.byteLength(value), offset);
      record.write(value, offset + 1);
    } else throw new Error(`${type}.${name}: cannot be written as a record`);
  }
  return record;
}
