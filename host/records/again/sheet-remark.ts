import { InputError } from '../../errors.js';
import { REPLACEMENT, unsafeCharacters } from '../../unsafe-characters.js';
import type { Archive, Remark } from '../archive/archive.js';
import type { PrintedSheet } from './printed-sheet.js';
import { contentAtSheet } from './recipe-as-printed.js';

/** What somebody says of a dry print. */
export type Said = Pick<Remark, 'rating' | 'words'>;

/** What was said is not a remark. */
export class RemarkError extends InputError {
  override readonly name = 'RemarkError';
}

const MOST_LETTERS = 500;
const BEST = 5;

/** A remark as it is kept. @throws RemarkError */
export function remarkFrom({ rating, words }: Said): Said {
  const text = words.trim();
  if (text === '' && rating === null) throw new RemarkError('give a rating, or some words, or both');
  if (text.length > MOST_LETTERS)
    throw new RemarkError(`the remark has ${text.length} letters, ${MOST_LETTERS} are allowed`);
  if (rating !== null && !(Number.isInteger(rating) && rating >= 1 && rating <= BEST))
    throw new RemarkError(`rating: ${rating} is not possible; give 1, waste, to ${BEST}, this is the print`);
  return { rating, words: text.replace(unsafeCharacters, REPLACEMENT) };
}

/** Keeps what somebody says of a sheet, and what it was printed by. @throws RemarkError */
export async function remarkOnSheet(archive: Archive, sheet: PrintedSheet, said: Said): Promise<void> {
  const { board, log, boot, seq, recipe, version } = sheet;
  const content = contentAtSheet(sheet, await archive.recipes(recipe))?.content ?? null;
  await archive.addRemark({
    ...{ name: recipe, version, content, sheet: { board, log, boot, seq } },
    ...remarkFrom(said),
  });
}
