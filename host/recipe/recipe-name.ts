/** As the message schema has it for recipes. */
export const MOST_NAME_CHARS = 20;

/**
 * A name for the board made of a title: 'Boathouse, café side' -> 'boathouse-cafe-side'. Empty if the title has
 * no letter or digit that a name can have.
 */
export function nameFromTitle(title: string): string {
  const plain = title
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase();
  const words = plain.replace(/[^a-z0-9]+/g, '-').replace(/^-/, '');
  return words.slice(0, MOST_NAME_CHARS).replace(/-$/, '');
}
