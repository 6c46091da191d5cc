import { z } from 'zod';
import { CONTROL, NAME, wireText } from './wire-text.js';

/** What the line and the board need to know of a field beyond what zod checks. */
export type WireFact =
  | { readonly kind: 'integer'; readonly min: number; readonly max: number }
  | { readonly kind: 'flag' }
  | { readonly kind: 'choice'; readonly name: string; readonly options: readonly string[] }
  | { readonly kind: 'hex'; readonly digits: 8 | 16 }
  | {
      readonly kind: 'text';
      readonly form: TextForm;
      readonly maxChars: number;
      readonly maxWireBytes: number;
    };

/** `name` is a slug that is safe as a file's name; `any` is what people write. */
export type TextForm = 'any' | 'name';

/** The wire facts of every field schema made here; the generator and the codec read nothing else. */
export const wireFacts = z.registry<WireFact>();

export function integer(min: number, max: number) {
  const schema = z.int().min(min).max(max);
  wireFacts.add(schema, { kind: 'integer', min, max });
  return schema;
}

export const u8 = () => integer(0, 0xff);
export const u16 = () => integer(0, 0xffff);
export const u32 = () => integer(0, 0xffff_ffff);

export function flag() {
  const schema = z.boolean();
  wireFacts.add(schema, { kind: 'flag' });
  return schema;
}

/** The words of every choice by its name, each in its place by its number, for the generator. */
export const namedChoices = new Map<string, readonly string[]>();

/**
 * One of a named list; on the wire its word, in the core and on the board's flash its number. The numbers go from 0 up
 * without a gap, whatever the order in which they are written.
 */
export function choice<const Word extends string>(name: string, numbers: Readonly<Record<Word, number>>) {
  if (namedChoices.has(name)) throw new Error(`the choice '${name}' stands in the schema twice`);
  const options = wordsByNumber(name, numbers);
  namedChoices.set(name, options);
  const schema = z.enum(options as [Word, ...Word[]]);
  wireFacts.add(schema, { kind: 'choice', name, options });
  return schema;
}

/** @throws Error unless the numbers are 0, 1, 2 and so on, each once. */
export function wordsByNumber<Word extends string>(
  name: string,
  numbers: Readonly<Record<Word, number>>,
): Word[] {
  const words: Word[] = [];
  for (const [word, number] of Object.entries<number>(numbers) as [Word, number][]) {
    if (words[number] !== undefined)
      throw new Error(`${name}: '${word}' and '${words[number]}' have the same number ${number}`);
    words[number] = word;
  }
  if (words.length !== Object.keys(numbers).length) {
    const gap = Array.from(words).indexOf(undefined as never);
    throw new Error(`${name}: the numbers must go from 0 up without a gap, ${gap} is missing`);
  }
  return words;
}

/** An identity or checksum: exactly `digits` lower-case hexadecimal digits; in the core an unsigned number. */
export function hexDigits(digits: 8 | 16) {
  const schema = z
    .string()
    .regex(new RegExp(`^[0-9a-f]{${digits}}$`), `must be ${digits} hexadecimal digits`);
  wireFacts.add(schema, { kind: 'hex', digits });
  return schema;
}

/** A name that is safe as a file's: small letters, digits and hyphens; may be empty where nothing is named. */
export function nameText(maxChars: number) {
  const schema = z.string().max(maxChars).regex(NAME, 'must be small letters, digits and single hyphens');
  wireFacts.add(schema, { kind: 'text', form: 'name', maxChars, maxWireBytes: maxChars });
  return schema;
}

/**
 * Text that people write: any Unicode but control characters and lone surrogates.
 * `maxChars` counts code points (columns of the display); `maxWireBytes` counts the text as it stands between
 * the quotes on the line, where a character outside ASCII takes 6 bytes or 12.
 */
export function text(maxChars: number, maxWireBytes: number = maxChars * 6) {
  const schema = z
    .string()
    .refine((value) => value.isWellFormed(), 'must be well-formed Unicode')
    .refine((value) => !CONTROL.test(value), 'must not contain control characters')
    .refine((value) => [...value].length <= maxChars, `must be at most ${maxChars} characters`)
    .refine(
      (value) => wireText(value).length <= maxWireBytes,
      `must take at most ${maxWireBytes} bytes on the line, where a letter outside ASCII takes 6`,
    );
  wireFacts.add(schema, { kind: 'text', form: 'any', maxChars, maxWireBytes });
  return schema;
}
