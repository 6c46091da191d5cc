/** Answers read as what a recipe holds: by the file's own schema, in signs or with letters and digits alone. */
import type { z } from 'zod';
import { type Framing, framingSchema } from '../../../recipe/framing.js';
import { formatStops, readOffset } from '../../../recipe/index.js';
import { readField } from '../../../recipe/reading/read-field.js';
import { recipeFile } from '../../../recipe/recipe-file.js';
import {
  numberFromPlainKeys,
  stopsFromPlainKeys,
  timeFromPlainKeys,
} from '../../../recipe/text/plain-keys.js';
import { UnreadableText } from '../../../recipe/text/unreadable-text.js';
import { isNone, literal } from '../wording.js';

const fields = recipeFile.shape;
const [basePass, burnPass] = fields.passes.element.options;
const dodge = basePass.shape.dodges.unwrap().element.shape;

/** Reads one field; UnreadableText or InputError for what it cannot be. */
type Read<Value> = (answer: string) => Value;

export const readTitle: Read<string> = (answer) => readField(fields.title, literal(answer));
export const readNegative = orEmpty((answer) => readField(fields.negative, answer));
export const readPaper = orEmpty((answer) => readField(fields.paper, answer));
/** As they are to stand in the file. */
export const readNotes: Read<string> = (text) => readField(fields.notes, text);
export const readName: Read<string> = (answer) =>
  readField(unwrap(fields.name), literal(answer).toLowerCase());

export const readAperture10 = orZero((answer) =>
  readField(unwrap(fields.aperture), numberFromPlainKeys(answer).trim()),
);
export const readMagnification1000 = orZero((answer) =>
  Math.round(readField(unwrap(fields.magnification), readNumber(answer)) * 1000),
);
export const readColumnMm = orZero((answer) => readField(unwrap(fields.columnHeightMm), readNumber(answer)));
export const readFocalMm = orZero((answer) => readField(unwrap(fields.focalLengthMm), readNumber(answer)));
export const readDryDown10 = orZero((answer) =>
  readField(unwrap(fields.dryDown), numberFromPlainKeys(answer).replace(/\s*per\s*cent\s*$/i, '%')),
);
export const readBaseMs: Read<number> = (answer) => readField(fields.base, timeFromPlainKeys(answer));

export const readFilter = orEmpty((answer) => readField(burnPass.shape.filter, answer));
export const readOffset120: Read<number> = (answer) =>
  readField(basePass.shape.stops, stopsFromPlainKeys(answer));
export const readBurn120: Read<number> = (answer) =>
  readField(burnPass.shape.stops, stopsFromPlainKeys(answer));
/** An amount held back needs no sign: nothing else can be meant. With a plus it is no dodge. */
export const readDodge120: Read<number> = (answer) => {
  const text = stopsFromPlainKeys(answer);
  return readField(dodge.stops, text.startsWith('+') ? text : formatStops(-Math.abs(readOffset(text))));
};
/** An area's name; empty for none. */
export const readArea = orEmpty((answer) => readField(dodge.label, answer));

export const framingFields = Object.keys(framingSchema.shape) as (keyof Framing)[];

/** One thing of the framing, as its file has it: a word, yes or no, a figure. */
export function readFramingField(name: keyof Framing, answer: string): Framing[keyof Framing] {
  const text = literal(answer).trim().toLowerCase();
  const words: Readonly<Record<string, boolean>> = { yes: true, true: true, no: false, false: false };
  const figure = text === '' ? Number.NaN : Number(text);
  return readField(framingSchema.shape[name], words[text] ?? (Number.isFinite(figure) ? figure : text));
}

/** The framing as a whole can only be taken away. */
export function readNoFraming(answer: string): undefined {
  if (isNone(answer)) return undefined;
  throw new UnreadableText(
    `'${answer}' is no framing; set one thing of it, such as framing.leftPercent=5, or 'none' for the whole scan`,
  );
}

function readNumber(answer: string): number {
  const digits = /^\s*(\d{1,6}(?:\.\d{1,6})?)\s*(?:x|times|mm)?\s*$/i.exec(numberFromPlainKeys(answer))?.[1];
  if (digits === undefined)
    throw new UnreadableText(`'${answer}' is not a number above zero; write it as 4 or 4.5`);
  return Number(digits);
}

function orZero(read: Read<number>): Read<number> {
  return (answer) => (isNone(answer) ? 0 : read(answer));
}

function orEmpty(read: Read<string>): Read<string> {
  return (answer) => (isNone(answer) ? '' : read(literal(answer)));
}

function unwrap<Inner extends z.ZodType>(field: z.ZodOptional<Inner>): Inner {
  return field.unwrap();
}
