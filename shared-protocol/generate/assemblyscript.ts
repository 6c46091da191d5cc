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
import { namedChoices, type WireFact } from '../wire-types.js';
import { layOut, type Slot, textCapacity, widestOnWire } from './layout.js';
import { camel, constant, pascal } from './names.js';

const BANNER = '// Written by shared-protocol/generate from shared-protocol/schema.ts; not for editing.\n';

/** The core's constants: limits, versions, choices, settings. */
export function writeConstants(version: string): string {
  const parts = [BANNER];
  for (const [name, value] of Object.entries(limits))
    parts.push(`export const ${constant(name)}: i32 = ${value};`);
  parts.push(`export const PROTOCOL_VERSION: u16 = ${protocolVersion};`);
  parts.push(`export const SCHEMA_HASH: u32 = 0x${schemaHash};`);
  parts.push(`export const FIRMWARE_VERSION = '${version}';`);
  for (const [name, options] of namedChoices) parts.push(writeChoice(name, options));
  parts.push(writeChoice('MessageType', messageTypes));
  parts.push(writeSettings(), writeErrorTexts());
  return `${parts.join('\n')}\n`;
}

function writeChoice(name: string, options: readonly string[]): string {
  const members = options.map((option, at) => `  ${pascal(option)} = ${at},`);
  const packed = options.flatMap((option) => [option.length, ...Buffer.from(option)]);
  return [
    `export const enum ${name} {`,
    ...members,
    '}',
    `export const ${constant(name)}_COUNT: i32 = ${options.length};`,
    `/** The words of ${name}, each after its length. */`,
    `export const ${constant(name)}_WORDS: usize = memory.data<u8>([${packed.join(', ')}]);`,
  ].join('\n');
}

function writeSettings(): string {
  const column = (pick: 'min' | 'max' | 'initial') =>
    `export const SETTING_${constant(pick)}: usize = memory.data<i32>([${Object.values(settings)
      .map((setting) => setting[pick])
      .join(', ')}]);`;
  return [column('min'), column('max'), column('initial')].join('\n');
}

function writeErrorTexts(): string {
  const cases = Object.entries(errorCodes).map(
    ([code, words]) => `    case ErrorCode.${pascal(code)}:\n      return '${words}';`,
  );
  return `export function errorText(code: ErrorCode): string {\n  switch (code) {\n${cases.join('\n')}\n    default:\n      return '';\n  }\n}`;
}

/** The core's records, one unmanaged class a message, with their readers and writers. */
export function writeCodec(): string {
  const used = new Set<string>(['MESSAGE_TYPE_WORDS', 'MessageType']);
  const bodies = messageTypes.map((type) => writeMessage(type, used));
  return [
    BANNER,
    "import { linePassed, readChoice, readFlag, readHex, readInteger, readText } from '../protocol/line-reader';",
    "import { beginLine, endLine, putChoice, putFlag, putHex, putInteger, putText } from '../protocol/line-writer';",
    `import { ${[...used].sort().join(', ')} } from './constants';`,
    '',
    ...bodies,
  ].join('\n');
}

/** For tests: reads a line's fields with one half of the codec and writes them with the other. */
export function writeRewrite(): string {
  const names = messageTypes.map((type) => [pascal(type), camel(type)] as const);
  const cases = names.map(
    ([name, record]) =>
      `    case MessageType.${name}:\n      if (!codec.read${name}(codec.${record})) return false;\n      codec.write${name}(codec.${record}, id);\n      return true;`,
  );
  return [
    BANNER,
    "import * as codec from './codec';",
    "import { MessageType } from './constants';",
    '',
    'export function rewrite(type: i32, id: i32): bool {',
    '  switch (type) {',
    ...cases,
    '    default:',
    '      return false;',
    '  }',
    '}',
    '',
  ].join('\n');
}

function writeMessage(type: MessageType, used: Set<string>): string {
  const fields = fieldsOf(type);
  assertFits(type, fields);
  const { slots, bytes } = layOut(fields);
  const slotOf = new Map(slots.map((slot) => [slot.name, slot]));
  const name = pascal(type);
  const reads = fields.map(({ name: field }, at) => readField(slotOf.get(field)!, at + 1, used));
  const puts = fields.map(({ name: field }) => putField(slotOf.get(field)!, used));
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
    ...reads,
    '  return linePassed();',
    '}',
    '',
    `export function write${name}(from: ${name}, id: i32): void {`,
    `  beginLine(MESSAGE_TYPE_WORDS, MessageType.${name}, id);`,
    ...puts,
    '  endLine();',
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

function readField({ name, fact, stored }: Slot, number: number, used: Set<string>): string {
  switch (fact.kind) {
    case 'integer':
      return `  into.${name} = ${stored}(readInteger(${number}, ${fact.min}, ${fact.max}));`;
    case 'flag':
      return `  into.${name} = readFlag(${number});`;
    case 'choice':
      return `  into.${name} = u8(readChoice(${number}, ${wordsOf(fact.name, used)}, ${countOf(fact.name, used)}));`;
    case 'hex':
      return `  into.${name} = ${stored}(readHex(${number}, ${fact.digits}));`;
    case 'text':
      return `  readText(${number}, into.${name}, ${fact.maxChars}, ${fact.maxWireBytes}, ${fact.form === 'name'});`;
  }
}

function putField({ name, fact }: Slot, used: Set<string>): string {
  switch (fact.kind) {
    case 'integer':
      return `  putInteger(i64(from.${name}));`;
    case 'flag':
      return `  putFlag(from.${name});`;
    case 'choice':
      return `  putChoice(${wordsOf(fact.name, used)}, from.${name});`;
    case 'hex':
      return `  putHex(u64(from.${name}), ${fact.digits});`;
    case 'text':
      return `  putText(from.${name});`;
  }
}

function wordsOf(choice: string, used: Set<string>): string {
  return mark(`${constant(choice)}_WORDS`, used);
}

function countOf(choice: string, used: Set<string>): string {
  return mark(`${constant(choice)}_COUNT`, used);
}

function mark(name: string, used: Set<string>): string {
  used.add(name);
  return name;
}

/** The longest line a message can make must fit, or the core would have to cut it. */
function assertFits(type: string, fields: readonly { fact: WireFact }[]): void {
  const frame = `["${type}",65535`.length + ',"01234567"]\n'.length;
  const longest = frame + fields.reduce((sum, { fact }) => sum + 1 + widestOnWire(fact), 0);
  if (longest > limits.lineBytes)
    throw new Error(`${type}: its longest line takes ${longest} bytes, ${limits.lineBytes} are allowed`);
}
