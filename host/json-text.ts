import { unsafeCharacters } from './unsafe-characters.js';

/** JSON in which every unsafe character is written as an escape: it reads back as the same text. */
export function jsonText(value: unknown, indent?: number): string {
  return JSON.stringify(value, undefined, indent).replace(unsafeCharacters, (found) =>
    // Inside a text JSON has escaped it already; this one begins an indented line.
    found === '\n' ? found : escaped(found),
  );
}

function escaped(character: string): string {
  return Array.from(
    { length: character.length },
    (_, at) => `\\u${character.charCodeAt(at).toString(16).padStart(4, '0')}`,
  ).join('');
}
