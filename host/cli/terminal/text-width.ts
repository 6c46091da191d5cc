import { createRequire } from 'node:module';
import type StringWidth from 'string-width';
import type WrapAnsi from 'wrap-ansi';

/**
 * The packages that know the width of any script take longer to load than a whole night takes to show, and most
 * commands show words that need neither: each is loaded by the first text that does.
 */
const load = createRequire(import.meta.url);
let widths: typeof StringWidth | undefined;
let wrapping: { readonly default: typeof WrapAnsi } | undefined;

const ONE_COLUMN_EACH = /^[ -~]*$/;

/** How many columns of a terminal a text takes. */
export function widthOf(text: string): number {
  if (ONE_COLUMN_EACH.test(text)) return text.length;
  widths ??= load('string-width') as typeof StringWidth;
  return widths(text);
}

/** The lines that a text makes where there are so many columns, broken between words, or in a word that is longer. */
export function linesOf(text: string, widthColumns: number): string[] {
  if (ONE_COLUMN_EACH.test(text) && text.length <= widthColumns) return [text];
  wrapping ??= load('wrap-ansi') as { readonly default: typeof WrapAnsi };
  return wrapping.default(text, widthColumns, { hard: true }).split('\n');
}
