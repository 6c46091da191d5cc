import { REPLACEMENT, unsafeCharacters } from '../../../unsafe-characters.js';

/**
 * Text from a file, board or archive, for the page: nothing in it turns the reading direction or hides letters. A new line
 * stays one: a list of faults has one each.
 */
export function shownText(text: string): string {
  return text.replace(unsafeCharacters, (unsafe) => (unsafe === '\n' ? unsafe : REPLACEMENT));
}

/** What stands alone begins with a capital. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
