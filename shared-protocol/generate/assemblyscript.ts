import { documents, endedParts, storageFormat } from '../documents.js';
import { fieldsOf } from '../fields.js';
import { limits } from '../limits.js';
import {
  errorCode,
  errorCodes,
  type MessageType,
  messages,
  messageTypes,
  protocolVersion,
  type Setting,
  type SettingName,
  settingNames,
  settingRange,
  settings,
} from '../schema.js';
import { usualBaths } from '../usual-baths.js';
import { namedChoices, type WireFact } from '../wire-types.js';
import { fieldKinds, fieldTable } from './field-table.js';
import { endedSlots, layOut, type Slot, textCapacity, widestOnWire } from './layout.js';
import { camel, constant, pascal } from './names.js';
import { recordBytes } from './record-bytes.js';
import { schemaHash } from './schema-hash.js';

const BANNER = '// Written by shared-protocol/generate from shared-protocol/schema.ts; not for editing.\n';

/** The core's constants: limits, versions, choices, settings. */
export function writeConstants(version: string): string {
  const parts = [BANNER, "import { ascii } from '../protocol/texts';\n"];
  for (const [name, value] of Object.entries(limits))
    parts.push(`export const ${constant(name)}: i32 = ${name === 'storageBytes' ? ofBoard(value) : value};`);
  parts.push(`export const PROTOCOL_VERSION: u16 = ${protocolVersion};`);
  parts.push(`export const SCHEMA_HASH: u32 = 0x${schemaHash};`);
  parts.push(`export const FIRMWARE_VERSION: usize = ascii('${version}');`);
  for (const [name, options] of namedChoices) parts.push(writeChoice(name, options));
  parts.push(writeChoice('MessageType', messageTypes));
  parts.push(`export const STORAGE_FORMAT: i32 = ${storageFormat};`);
  parts.push(writeNumbers('DocumentKind', documentKinds()), writeNumbers('EntryKind', entryKinds()));
  parts.push(writeEntryMessages());
  parts.push(writeSettings(), writeSettingValues(), writeUsualBaths(), writeErrorTexts());
  return `${parts.join('\n')}\n`;
}

/** A board with another storage has the core compiled for it: `asc --use BOARD_STORAGE_BYTES=n`, as its image's build does. */
function ofBoard(bytes: number): string {
  return `isDefined(BOARD_STORAGE_BYTES) ? BOARD_STORAGE_BYTES : ${bytes}`;
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

function documentKinds(): [name: string, number: number][] {
  return Object.entries(documents).map(([name, { number }]) => [name, number]);
}

function entryKinds(): [name: MessageType, number: number][] {
  return messageTypes.flatMap((type) => {
    const { entryKind } = messages[type];
    return entryKind === 0 ? [] : [[type, entryKind]];
  });
}

function writeNumbers(name: string, numbers: readonly (readonly [name: string, number: number])[]): string {
  if (new Set(numbers.map(([, number]) => number)).size < numbers.length)
    throw new Error(`${name}: two have the same number`);
  const members = numbers.map(([member, number]) => `  ${pascal(member)} = ${number},`);
  return [`export const enum ${name} {`, ...members, '}'].join('\n');
}

/** For each kind of log entry the message that tells of it, 0xff where there is none. */
function writeEntryMessages(): string {
  const types: number[] = [];
  for (const [type, kind] of entryKinds()) types[kind] = messageTypes.indexOf(type);
  const bytes = Array.from(types, (type) => type ?? 0xff);
  return [
    `export const ENTRY_KINDS: i32 = ${bytes.length};`,
    `export const ENTRY_MESSAGES: usize = memory.data<u8>([${bytes.join(', ')}]);`,
  ].join('\n');
}

/** The settings that can have some values of their range only. */
function writeSettingValues(): string {
  const chosen = settingNames.filter((name) => (settings[name] as Setting).values !== undefined);
  const cases = (line: (name: SettingName) => string) =>
    chosen.map((name) => `    case SettingName.${pascal(name)}:\n      return ${line(name)};`).join('\n');
  const mask = (name: SettingName) => {
    const { min, max, values = [] }: Setting = settings[name];
    if (min < 0 || max > 31) throw new Error(`${name}: values that are listed must be from 0 to 31`);
    return values.reduce((bits, value) => bits + 2 ** value, 0);
  };
  return [
    '/** `value` is in the range of the setting. */',
    'export function settingAllows(name: i32, value: i32): bool {',
    `  switch (name) {\n${cases((name) => `((${mask(name)} >>> value) & 1) != 0`)}`,
    '    default:\n      return true;\n  }\n}',
    '/** What the setting can be, where that is less than its range; else 0. */',
    'export function settingWords(name: i32): usize {',
    `  switch (name) {\n${cases((name) => `ascii('it can be ${settingRange(name)}')`)}`,
    '    default:\n      return 0;\n  }\n}',
  ].join('\n');
}

function writeSettings(): string {
  const column = (pick: 'min' | 'max' | 'initial') =>
    `export const SETTING_${constant(pick)}: usize = memory.data<i16>([${settingNames
      .map((name) => settings[name][pick])
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

/** The words of the error codes one after another, each after its length. */
function writeErrorTexts(): string {
  const words = errorCode.options.flatMap((code) => [
    errorCodes[code].length,
    ...Buffer.from(errorCodes[code]),
  ]);
  return [
    `const ERROR_TEXTS: usize = memory.data<u8>([${words.join(', ')}]);`,
    'export function errorText(code: i32): usize {',
    '  let text = ERROR_TEXTS;',
    '  for (; code > 0; code--) text += 1 + load<u8>(text);',
    '  return text;',
    '}',
  ].join('\n');
}

/** The schema as the table that the core reads and writes records by. */
export function writeFieldTable(): string {
  const { fields, firstFields, ranges, wideRanges, textBounds, words, choices } = fieldTable();
  const data = (name: string, type: string, values: readonly (number | bigint)[]) =>
    `export const ${name}: usize = memory.data<${type}>([${values.join(', ')}]);`;
  return [
    BANNER,
    'export const enum FieldKind {',
    ...fieldKinds.map((kind) => `  ${kind},`),
    '}',
    data('FIELDS', 'u8', fields),
    data('FIRST_FIELDS', 'u16', firstFields),
    // Beyond what 32 bits with a sign hold, those of unsigned fields: the core reads them as such.
    data(
      'FIELD_RANGES',
      'i32',
      ranges.map((bound) => BigInt.asIntN(32, bound)),
    ),
    data('WIDE_RANGES', 'i64', wideRanges),
    data('TEXT_BOUNDS', 'u8', textBounds),
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
    `const RECORDS: usize = memory.data(${messagePlaces().bytes}, 8);`,
    '',
    ...messageTypes.map(writeMessage),
    ...Object.entries(endedParts).map(([type, names]) => writeEndedPart(type as MessageType, names)),
    writeRequestPlaces(),
  ].join('\n');
}

/** The records lie one after another, requests first, so that a byte tells where in units of 8. */
function messagePlaces(): {
  places: ReadonlyMap<MessageType, number>;
  requestBytes: number;
  bytes: number;
} {
  const isRequest = (type: MessageType) => messages[type].role === 'request';
  const places = new Map<MessageType, number>();
  let requestBytes = 0;
  let bytes = 0;
  for (const type of [...messageTypes].sort(
    (one, other) => Number(isRequest(other)) - Number(isRequest(one)),
  )) {
    places.set(type, bytes);
    bytes += Math.max(layOut(fieldsOf(type)).bytes, 8);
    if (isRequest(type)) requestBytes = bytes;
    if (requestBytes > NO_REQUEST * 8) throw new Error(`${type}: a byte does not tell its place`);
  }
  return { places, requestBytes, bytes };
}

/** Where the fields of each request are read to. */
function writeRequestPlaces(): string {
  const { places, requestBytes } = messagePlaces();
  const units = messageTypes.map((type) =>
    messages[type].role === 'request' ? places.get(type)! / 8 : NO_REQUEST,
  );
  return [
    `const REQUEST_PLACES: usize = memory.data<u8>([${units.join(', ')}]);`,
    '',
    '/** The place of a request of that type, 0 for types that are no requests. */',
    'export function requestPlace(type: i32): usize {',
    '  const unit = load<u8>(REQUEST_PLACES + type);',
    `  return unit == ${NO_REQUEST} ? 0 : RECORDS + (usize(unit) << 3);`,
    '}',
    '',
    '/** A text leaves nothing behind for the next one there: what is kept of a record is its content alone. */',
    'export function clearRequests(): void {',
    `  memory.fill(RECORDS, 0, ${requestBytes});`,
    '}',
    '',
  ].join('\n');
}

const NO_REQUEST = 0xff;

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
    `export const ${camel(type)}: ${name} = changetype<${name}>(RECORDS + ${messagePlaces().places.get(type)});`,
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

/** What the end of an entry adds to its begun part; no more bytes than it needs, since the log has few for it. */
function writeEndedPart(type: MessageType, names: readonly string[]): string {
  const { slots, ends } = endedSlots(type, names);
  return [
    `/** What the end of a \`${type}\` adds to its begun part. */`,
    '@unmanaged',
    `export class ${pascal(type)}Result {`,
    ...slots.map((slot) => `  ${slot.name}: ${slot.stored};`),
    '}',
    `export const ${constant(type)}_RESULT_BYTES: i32 = ${ends};`,
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
