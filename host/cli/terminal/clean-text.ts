import { REPLACEMENT, unsafeCharacters } from '../../unsafe-characters.js';

/**
 * Text from elsewhere (a board, a file, an archive), fit to be printed on a terminal: what would steer the
 * terminal or turn its reading direction is shown as U+FFFD. `lines` keeps line feeds.
 */
export function cleanText(text: string, keep?: 'lines'): string {
  return text.replace(unsafeCharacters, (found) =>
    keep === 'lines' && found === '\n' ? found : REPLACEMENT,
  );
}
