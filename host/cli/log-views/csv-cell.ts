import { cleanText } from '../terminal/clean-text.js';

/**
 * Where a spreadsheet would begin a formula, and a formula can do harm (OWASP, 'CSV Injection'): at the cell's start,
 * and after whatever else may part cells, since where commas are decimal points a spreadsheet parts them by
 * semicolons and heeds no quotes in the middle.
 */
const FORMULA = /((?:^|[;|])[\s"]*)(?=[=+\-@\uff1d\uff0b\uff0d\uff20\t\r\n])/g;
/** What most cells are: nothing of the above can be in these, and a log has millions of them. */
const PLAIN = /^[A-Za-z0-9][A-Za-z0-9:. -]*$/;
const NEEDS_QUOTES = /[",;|]/;

/** One cell of a CSV (RFC 4180): fit to be shown, and kept text by an apostrophe where it would be a formula. */
export function csvCell(text: string): string {
  if (text === '' || PLAIN.test(text)) return text;
  const harmless = cleanText(text.replace(FORMULA, "$1'"));
  return NEEDS_QUOTES.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}
