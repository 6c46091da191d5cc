import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { projectRoot } from '../../shared-protocol/project.js';

const frozen: Readonly<Record<string, number | string>> = JSON.parse(
  readFileSync(join(projectRoot, 'shared-protocol/frozen-formats.json'), 'utf8'),
);

/**
 * A message as flashes have it for ever, by shared-protocol/frozen-formats.json alone: little-endian, a text with its length
 * before it, and zero wherever nothing is said.
 */
export function frozenRecord(message: string, values: Readonly<Record<string, unknown>>): Buffer {
  const record = Buffer.alloc(frozen[`message ${message}/bytes`] as number);
  for (let field = 1; ; field++) {
    const said = frozen[`message ${message}/${field}`];
    if (said === undefined) return record;
    const [, name, kind, width, at] = /^(\w+): (.*?)[;] (\d+) bytes at (\d+)$/.exec(String(said))!;
    const value = values[name!];
    const choice = /^choice (\w+)$/.exec(kind!)?.[1];
    if (choice !== undefined) record[Number(at)] = frozen[`choice ${choice}/${value}`] as number;
    else if (typeof value === 'string')
      record.set([Buffer.byteLength(value), ...Buffer.from(value)], Number(at));
    else if (/\.\.\d+$/.test(kind!) && / -/.test(kind!))
      record.writeIntLE(Number(value), Number(at), Number(width));
    else record.writeUIntLE(Number(value), Number(at), Number(width));
  }
}
