// Cc steers the terminal; Cf (joiners apart, which scripts and emoji need) turns the reading direction or hides
// letters; Cs is half a character; Zl and Zp break lines.
const UNSAFE = /(?![\u200c\u200d])[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu;

/**
 * Text from elsewhere (a board, a file, an archive), fit to be printed on a terminal: what would steer the
 * terminal or turn its reading direction is shown as U+FFFD. `lines` keeps line feeds.
 */
export function cleanText(text: string, keep?: 'lines'): string {
  return text.replace(UNSAFE, (found) => (keep === 'lines' && found === '\n' ? found : '\ufffd'));
}
