/**
 * Text on a drawn page, which nothing wraps by itself. Widths are of a plain sans serif, in parts of the letter
 * size, rounded up: whatever font the page is shown in, a line that fits here hardly ever runs over.
 */
const WIDE = 0.86;
const CAPITAL = 0.7;
const SMALL = 0.56;
const NARROW = 0.3;
const FULL = 1.05;

export function textWidth(text: string, size: number): number {
  let width = 0;
  for (const character of text) width += characterWidth(character);
  return width * size;
}

function characterWidth(character: string): number {
  if (/[iIjl.,:;'|!()[\] ]/.test(character)) return NARROW;
  if (/[mwMW%@]/.test(character)) return WIDE;
  if (/[A-Z+=<>~]/.test(character)) return CAPITAL;
  return character < '\u2000' ? SMALL : FULL;
}

/** The text if it fits `width`, otherwise as much of it as does, and an ellipsis. */
export function shorten(text: string, size: number, width: number): string {
  if (textWidth(text, size) <= width) return text;
  const characters = [...text];
  while (characters.length > 0 && textWidth(`${characters.join('')}…`, size) > width) characters.pop();
  return `${characters.join('').trimEnd()}…`;
}

/**
 * The text in lines of at most `width`, broken at spaces where there are any; line breaks in it are kept. At
 * most `most` lines: of a longer text the last line ends in an ellipsis.
 */
export function wrap(text: string, size: number, width: number, most: number): string[] {
  const lines = text
    .split(/\r\n|\r|\n/)
    .flatMap((paragraph) => wrapParagraph(paragraph, size, width))
    .slice(0, most + 1);
  if (lines.length <= most) return lines;
  const last = lines[most - 1];
  return last === undefined ? [] : [...lines.slice(0, most - 1), shorten(`${last} …`, size, width)];
}

function wrapParagraph(paragraph: string, size: number, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of paragraph.split(' ').flatMap((each) => pieces(each, size, width))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (textWidth(longer, size) <= width) line = longer;
    else {
      lines.push(line);
      line = word;
    }
  }
  return [...lines, line];
}

/** A word that is wider than the line, cut to pieces that are not. */
function pieces(word: string, size: number, width: number): string[] {
  if (textWidth(word, size) <= width) return [word];
  const cut: string[] = [''];
  for (const character of word) {
    if (textWidth(cut.at(-1)! + character, size) > width) cut.push('');
    cut[cut.length - 1] += character;
  }
  return cut;
}
