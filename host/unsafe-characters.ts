/**
 * Characters that no text of a board, a file or an archive should bring to a reader's eye unseen: Cc steers a
 * terminal; Cf (joiners apart, which scripts and emoji need) turns the reading direction or hides letters; Cs is
 * half a character; Zl and Zp break lines.
 */
export const unsafeCharacters = /(?![\u200c\u200d])[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu;

export const REPLACEMENT = '\ufffd';
