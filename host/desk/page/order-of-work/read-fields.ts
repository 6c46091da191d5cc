/** What is typed, read by the recipe file's own schema. */
import { formatStops, readStops } from '../../../recipe/index.js';
import { readField } from '../../../recipe/reading/read-field.js';
import { recipeFile } from '../../../recipe/recipe-file.js';

const fields = recipeFile.shape;
const [basePass, burnPass] = fields.passes.element.options;
const dodge = basePass.shape.dodges.unwrap().element.shape;

export const readBaseMs = (text: string): number => readField(fields.base, text);
export const readOffset120 = (text: string): number => readField(basePass.shape.stops, text);
export const readBurn120 = (text: string): number => readField(burnPass.shape.stops, text);
/** What is held back needs no sign: nothing else can be meant. With a plus it is no dodge. */
export const readDodge120 = (text: string): number => {
  const isLight = text.trim().startsWith('+');
  return readField(dodge.stops, isLight ? text : formatStops(-Math.abs(readStops(text))));
};
export const readLabel = (text: string): string => readField(dodge.label, text.trim());
export const readFilter = (text: string): string => readField(burnPass.shape.filter, text.trim());
export const readTitle = (text: string): string => readField(fields.title, text.trim());
export const readName = (text: string): string => readField(fields.name.unwrap(), text.trim().toLowerCase());
export const readNegative = (text: string): string => readField(fields.negative, text.trim());
export const readPaper = (text: string): string => readField(fields.paper, text.trim());
export const readNotes = (text: string): string => readField(fields.notes, text);
export const readDryDown10 = orZero((text) => readField(fields.dryDown.unwrap(), text));
export const readAperture10 = orZero((text) => readField(fields.aperture.unwrap(), text));
export const readMagnification1000 = orZero((text) =>
  Math.round(1000 * readField(fields.magnification.unwrap(), numberIn(text))),
);

/** Nothing typed is nothing told. */
function orZero(read: (text: string) => number): (text: string) => number {
  return (text) => (text.trim() === '' ? 0 : read(text.trim()));
}

/** What is no number is refused by the schema, in its words. */
function numberIn(text: string): number {
  const number = Number(text.replace(/\s*x$/i, ''));
  return Number.isNaN(number) ? (text as unknown as number) : number;
}
