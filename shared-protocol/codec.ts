import { z } from 'zod';
import { crc32Hex } from './crc32.js';
import { type ElementsReader, elementsReader, FIRST_FIELD } from './elements-reader.js';
import { limits } from './limits.js';
import { inspectSeal } from './line-seal.js';
import { nameIn, namesBefore } from './names-before.js';
import {
  type Message,
  type MessageOf,
  type MessageType,
  messages,
  messageTypes,
  protocolVersion,
} from './schema.js';
import { escapeToAscii } from './wire-text.js';

/** A message that the schema does not allow was about to be sent: a mistake of the calling program. */
export class EncodeError extends Error {
  override readonly name = 'EncodeError';
}

export type LineFault = 'bad-line' | 'bad-crc' | 'unknown-type' | 'bad-field';
export type Decoded =
  | { readonly ok: true; readonly message: Message }
  | { readonly ok: false; readonly fault: LineFault; readonly id: number; readonly why: string };

interface Layout {
  readonly names: readonly string[];
  readonly read: ElementsReader;
  readonly schema: z.ZodObject;
}

const layouts = new Map<string, Layout>(
  messageTypes.flatMap((type) => {
    const fields: z.ZodRawShape = messages[type].fields;
    const read = atFirstUse(() => elementsReader(type, fields));
    const layout: Layout = { names: Object.keys(fields), read, schema: z.strictObject(fields) };
    return [type, ...namesBefore(type)].map((name): [string, Layout] => [name, layout]);
  }),
);

/** Not before: by then a page has said what may be made there. */
function atFirstUse(make: () => ElementsReader): ElementsReader {
  let made: ElementsReader | undefined;
  return (elements) => {
    made ??= make();
    return made(elements);
  };
}

const LONGEST_ID = 0xffff;
/** A line's elements: type, id, the fields, the checksum. */
const ELEMENTS_BESIDE_FIELDS = 3;

/** The checksum of a line's text before its last comma, as the line carries it. */
export function lineChecksum(body: string): string {
  return crc32Hex(body);
}

/**
 * One message as its line, newline included, under the name that it has in `protocol`.
 * @throws EncodeError when a field is outside the schema, or the id is not 0..65535.
 */
export function encodeLine<Type extends MessageType>(
  message: MessageOf<Type>,
  protocol = protocolVersion,
): string {
  const { type, id, ...fields } = message as Message & Record<string, unknown>;
  const layout = layouts.get(type);
  if (!layout) throw new EncodeError(`there is no message '${type}'`);
  if (!Number.isInteger(id) || id < 0 || id > LONGEST_ID)
    throw new EncodeError(`id ${id} of '${type}' must be a whole number from 0 to ${LONGEST_ID}`);
  const checked = layout.schema.safeParse(fields);
  if (!checked.success) throw new EncodeError(`${type}: ${z.prettifyError(checked.error)}`);
  const values = layout.names.map((name) => checked.data[name]);
  const body = escapeToAscii(JSON.stringify([nameIn(type, protocol), id, ...values])).slice(0, -1);
  // No line of the schema is longer than a line may be: the generator holds it.
  return `${body},"${lineChecksum(body)}"]\n`;
}

/** Reads one line, without its newline, of this protocol or an earlier one. Never throws; says what is wrong instead. */
export function decodeLine(line: string): Decoded {
  if (line.length >= limits.lineBytes) return refuse('bad-line', 0, `${line.length} bytes are too many`);
  const seal = inspectSeal(line);
  if (seal === 'no-line') return refuse('bad-line', 0, 'not of the form ["type",id,...,"crc32"] in ASCII');
  if (seal === 'wrong') return refuse('bad-crc', 0, 'its checksum does not fit');
  let parsed: unknown[];
  try {
    parsed = JSON.parse(line) as unknown[];
  } catch {
    return refuse('bad-line', 0, 'not valid JSON');
  }
  return decodeElements(parsed);
}

/** A line's elements, its checksum the last of them. */
function decodeElements(elements: readonly unknown[]): Decoded {
  const type = elements[0];
  const id = elements[1];
  if (typeof id !== 'number' || !Number.isInteger(id) || id < 0 || id > LONGEST_ID)
    return refuse('bad-line', 0, 'its second element is not an id');
  const layout = layouts.get(type as string);
  if (!layout) return refuse('unknown-type', id, `there is no message '${String(type)}'`);
  const count = elements.length - ELEMENTS_BESIDE_FIELDS;
  if (count !== layout.names.length)
    return refuse('bad-field', id, `${String(type)} has ${layout.names.length} fields, not ${count}`);
  const message = layout.read(elements);
  return message === undefined ? refuseField(layout, id, elements) : { ok: true, message };
}

/** The schema says in words what the quick checks found. */
function refuseField({ names, schema }: Layout, id: number, elements: readonly unknown[]): Decoded {
  const fields = Object.fromEntries(names.map((name, at) => [name, elements[at + FIRST_FIELD]]));
  const checked = schema.safeParse(fields);
  return refuse(
    'bad-field',
    id,
    checked.error ? z.prettifyError(checked.error) : 'not what the schema allows',
  );
}

function refuse(fault: LineFault, id: number, why: string): Decoded {
  return { ok: false, fault, id, why };
}
