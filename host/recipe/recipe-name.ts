/** As the message schema has it for recipes. */
export const MOST_NAME_CHARS = 20;

/** A title that is too long for a name ends in so many letters of its own, so that two that begin alike get two names. */
const OWN_CHARS = 4;
/** Letters and digits that are not taken for one another. */
const OWN_ALPHABET = '23456789abcdefghjkmnpqrstuvwxyz';

/**
 * A name for the board made of a title: 'Boathouse, café side' -> 'boathouse-cafe-side'. Empty if the title has
 * no letter or digit that a name can have.
 */
export function nameFromTitle(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase();
  const words = plain.replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
  if (words.length <= MOST_NAME_CHARS) return words;
  const beginning = words.slice(0, MOST_NAME_CHARS - OWN_CHARS - 1).replace(/-$/, '');
  return `${beginning}-${ownLetters(words)}`;
}

/** FNV-1a with 32 bits, as Fowler, Noll and Vo published it: the same title has the same letters wherever it is read. */
function ownLetters(words: string): string {
  let hash = 0x811c9dc5;
  for (const character of words) hash = Math.imul(hash ^ character.charCodeAt(0), 0x01000193) >>> 0;
  let letters = '';
  for (; letters.length < OWN_CHARS; hash = Math.floor(hash / OWN_ALPHABET.length))
    letters += OWN_ALPHABET[hash % OWN_ALPHABET.length];
  return letters;
}
