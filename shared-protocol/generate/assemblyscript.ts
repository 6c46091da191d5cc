import { limits } from '../limits.js';
import {
  errorCodes,
  type MessageType,
  messages,
  messageTypes,
  protocolVersion,
  settings,
} from '../schema.js';
import { fieldsOf, schemaHash } from '../schema-hash.js';
import { usualBaths } from '../usual-baths.js';
import { namedChoices, type WireFact } from '../wire-types.js';
import { fieldKinds, fieldTable } from './field-table.js';
import { layOut, type Slot, textCapacity, widestOnWire } from './layout.js';
import { camel, constant, pascal } from './names.js';
import { recordBytes } from './record-bytes.js';

const BANNER = '// Written by shared-protocol/generate from shared-protocol/schema.ts; not for editing.\n';

/** The core's constants: limits, versions, choices, settings. */
export function writeConstants(version: string): string {
  const parts = [BANNER, "import { ascii } from '../protocol/texts';\n"];
  for (const [name, value] of Object.entries(limits))
    parts.push(`export const ${constant(name)}: i32 = ${value};`);
  parts.push(`export const PROTOCOL_VERSION: u16 = ${protocolVersion};`);
  parts.push(`export const SCHEMA_HASH: u32 = 0x${schemaHash};`);
  parts.push(`export const FIRMWARE_VERSION: usize = ascii('${version}');`);
  for (const [name, options] of namedChoices) parts.push(writeChoice(name, options));
  parts.push(writeChoice('MessageType', messageTypes));
  parts.push(writeSettings(), writeUsualBaths(), writeErrorTexts());
  return `${parts.join('\n')}\n`;
}

function writeChoice(name: string, options: readonly string[]): string {
  const members = options.map((option, at) => `  ${pascal(option)} = ${at},`);
  return [
    `export const enum ${name} {`,
    ...members,
    '}',
    `export const ${constant(name)}_COUNT: i32 = ${options.length};`,
  ].join('\n');
}

function writeSettings(): string {
  const column = (pick: 'min' | 'max' | 'initial') =>
    `export const SETTING_${constant(pick)}: usize = memory.data<i32>([${Object.values(settings)
      .map((setting) => setting[pick])
      .join(', ')}]);`;
  return [column('min'), column('max'), column('initial')].join('\n');
}

/** The usual baths as `bath` records, one after another, as the core keeps them. */
function writeUsualBaths(): string {
  const row = usualBaths.map((bath, at) =>
    recordBytes('bath', { ...bath, bath: at + 1, baths: usualBaths.length, sheets: 0, areaCm2: 0 }),
  );
  return [
    `export const USUAL_BATHS_COUNT: i32 = ${row.length};`,
    `export const USUAL_BATHS: usize = memory.data<u8>([${Buffer.concat(row).join(', ')}]);`,
  ].join('\n');
}

function writeErrorTexts(): string {
  const cases = Object.entries(errorCodes).map(
    ([code, words]) => `    case ErrorCode.${pascal(code)}:\n      return ascii('${words}');`,
  );
  return `export function errorText(code: ErrorCode): usize {\n  switch (code) {\n${cases.join('\n')}\n    default:\n      return ascii('');\n  }\n}`;
}

/** The schema as the table that the core reads and writes records by. */
export function writeFieldTable(): string {
  const { fields, firstFields, ranges, words, choices } = fieldTable();
  const data = (name: string, type: string, values: readonly (number | bigint)[]) =>
    `export const ${name}: usize = memory.data<${type}>([${values.join(', ')}]);`;
  return [
    BANNER,
    'export const enum FieldKind {',
    ...fieldKinds.map((kind) => `  ${kind},`),
    '}',
    data('FIELDS', 'u8', fields),
    data('FIRST_FIELDS', 'u16', firstFields),
    data('FIELD_RANGES', 'i64', ranges),
    data('CHOICE_WORDS', 'u8', words),
    data(
      'CHOICE_AT',
      'u16',
      choices.map(({ at }) => at),
    ),
    data(
      'CHOICE_COUNT',
      'u8',
      choices.map(({ count }) => count),
    ),
    `export const MESSAGE_TYPE_CHOICE: i32 = ${choices.findIndex(({ name }) => name === 'MessageType')};`,
    '',
  ].join('\n');
}

/** The core's records, one unmanaged class a message, each with a place of its own. */
export function writeCodec(): string {
  return [
    BANNER,
    "import { readRecord, writeRecord } from '../protocol/record-codec';",
    "import { MessageType } from './constants';",
    '',
    ...messageTypes.map(writeMessage),
    writeRequestPlaces(),
  ].join('\n');
}

/** Where the fields of each request are read to. */
function writeRequestPlaces(): string {
  const requests = messageTypes.filter((type) => messages[type].role === 'request');
  return [
    '/** The place of a request of that type, 0 for types that are no requests. */',
    'export function requestPlace(type: i32): usize {',
    '  switch (type) {',
    ...requests.map(
      (type) => `    case MessageType.${pascal(type)}:\n      return changetype<usize>(${camel(type)});`,
    ),
    '    default:',
    '      return 0;',
    '  }',
    '}',
    '',
  ].join('\n');
}

function writeMessage(type: MessageType): string {
  const fields = fieldsOf(type);
  assertFits(type, fields);
  const { slots, bytes } = layOut(fields);
  const name = pascal(type);
  return [
    `/** ${messages[type].meaning} (${messages[type].role}) */`,
    '@unmanaged',
    `export class ${name} {`,
    ...slots.filter(({ stored }) => stored !== 'text').map((slot) => `  ${slot.name}: ${slot.stored};`),
    ...slots.filter(({ stored }) => stored === 'text').map(textGetter),
    '}',
    `export const ${constant(type)}_BYTES: i32 = ${bytes};`,
    `export const ${camel(type)}: ${name} = changetype<${name}>(memory.data(${Math.max(bytes, 8)}, 8));`,
    '',
    `export function read${name}(into: ${name}): bool {`,
    `  return readRecord(MessageType.${name}, changetype<usize>(into));`,
    '}',
    '',
    `export function write${name}(from: ${name}, id: i32): void {`,
    `  writeRecord(MessageType.${name}, changetype<usize>(from), id);`,
    '}',
    '',
  ].join('\n');
}

function textGetter({ name, fact, offset }: Slot): string {
  const { maxChars, maxWireBytes } = fact as Extract<WireFact, { kind: 'text' }>;
  return [
    `  /** Length byte, then at most ${textCapacity(maxChars, maxWireBytes)} bytes of UTF-8. */`,
    `  get ${name}(): usize {`,
    `    return changetype<usize>(this) + ${offset};`,
    '  }',
  ].join('\n');
}

/** The longest line a message can make must fit, or the core would have to cut it. */
function assertFits(type: string, fields: readonly { fact: WireFact }[]): void {
  const frame = `["${type}",65535`.length + ',"01234567"]\n'.length;
  const longest = frame + fields.reduce((sum, { fact }) => sum + 1 + widestOnWire(fact), 0);
  if (longest > limits.lineBytes)
    throw new Error(`${type}: its longest line takes ${longest} bytes, ${limits.lineBytes} are allowed`);
}
