/** Letters that the display's character set lacks, as the nearest one that it has. */
import { ascii } from '../protocol/texts';

/** U+00C0 to U+00FF, in order. */
const LATIN_1 = ascii('AAAAAAACEEEEIIIIDNOOOOOxOUUUUYTsaaaaaaaceeeeiiiidnooooo/ouuuuyty');
const LATIN_1_FIRST: i32 = 0xc0;
/** U+0100 to U+017F. */
const LATIN_EXTENDED_A = ascii(
  'AaAaAaCcCcCcCcDdDdEeEeEeEeEeGgGgGgGgHhHhIiIiIiIiIiIiJjKkkLlLlLlLlLlNnNnNnnNnOoOoOoOoRrRrRrSsSsSsSsTtTtTtUuUuUuUuUuUuWwYyYZzZzZzs',
);
const LATIN_EXTENDED_A_FIRST: i32 = 0x100;

const UNKNOWN: u8 = 0x3f;

/** The ASCII character to show for a code point; 0 for an accent that combines with the letter before it. */
export function plainLetter(point: i32): u8 {
  if (point < 0x7f) return u8(point);
  if (point >= LATIN_1_FIRST && point < LATIN_EXTENDED_A_FIRST) {
    return load<u8>(LATIN_1 + 1 + point - LATIN_1_FIRST);
  }
  const extended = point - LATIN_EXTENDED_A_FIRST;
  if (extended >= 0 && extended < load<u8>(LATIN_EXTENDED_A))
    return load<u8>(LATIN_EXTENDED_A + 1 + extended);
  if (point >= 0x300 && point <= 0x36f) return 0;
  return punctuation(point);
}

function punctuation(point: i32): u8 {
  switch (point) {
    case 0xa0:
      return 0x20;
    case 0x2010:
    case 0x2011:
    case 0x2013:
    case 0x2014:
    case 0x2212:
      return 0x2d;
    case 0x2018:
    case 0x2019:
      return 0x27;
    case 0x201c:
    case 0x201d:
    case 0x201e:
      return 0x22;
    default:
      return UNKNOWN;
  }
}
