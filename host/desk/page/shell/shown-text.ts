import { REPLACEMENT, unsafeCharacters } from '../../../unsafe-characters.js';

/** Text from a file, board or archive, for the page: nothing in it turns the reading direction or hides letters. */
export function shownText(text: string): string {
  return text.replace(unsafeCharacters, REPLACEMENT);
}

/** What stands alone begins with a capital. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
