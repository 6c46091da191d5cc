import { fieldsOf } from '../fields.js';
import { namesBefore } from '../names-before.js';
import { type MessageType, messages, messageTypes } from '../schema.js';

/**
 * A reader for each record of the log, by every name that it ever had: whoever reads an archive needs no more of the
 * schema than this, and starts much sooner without it.
 */
export function writeRecordReaders(): string {
  const checks = new Checks();
  const readers = messageTypes
    .filter((type) => messages[type].role === 'record')
    .flatMap((type) => writeReader(type, checks));
  return [
    '// Written by shared-protocol/generate from shared-protocol/schema.ts; not for editing.',
    '',
    "import { fieldCheck } from '../field-check.js';",
    '',
    ...checks.lines(),
    '',
    '/** What a record says by name, of its fields in the order of the wire; undefined where the schema does not allow them. */',
    'export const recordReaders: ReadonlyMap<string, (fields: readonly unknown[]) => object | undefined> = new Map([',
    ...readers,
    ']);',
    '',
  ].join('\n');
}

/** Many fields are alike, so each check is made once. */
class Checks {
  readonly #names = new Map<string, string>();

  nameOf(fact: unknown): string {
    const text = JSON.stringify(fact);
    const name = this.#names.get(text) ?? `check${this.#names.size}`;
    this.#names.set(text, name);
    return name;
  }

  lines(): string[] {
    return [...this.#names].map(([fact, name]) => `const ${name} = fieldCheck(${fact});`);
  }
}

function writeReader(type: MessageType, checks: Checks): string[] {
  const fields = fieldsOf(type);
  const allowed = fields.map(({ fact }, at) => `${checks.nameOf(fact)}(fields[${at}])`);
  const values = fields.map(({ name }, at) => `${name}: fields[${at}]`);
  const reader = [
    '(fields) =>',
    `    fields.length === ${fields.length} && ${allowed.join(' && ')}`,
    `      ? { type: '${type}', id: 0, ${values.join(', ')} }`,
    '      : undefined',
  ].join('\n');
  return [type, ...namesBefore(type)].map((name) => `  ['${name}', ${reader}],`);
}
