/**
 * What somebody types who keeps to letters, digits and Return, put into the signs that the readers know: 'plus1third'
 * is '+1/3', '12point5' is '12.5'. Text that has the signs already passes as it is.
 */
import { UnreadableText } from './unreadable-text.js';

const PARTS: Readonly<Record<string, number>> = {
  half: 2,
  halves: 2,
  third: 3,
  quarter: 4,
  fifth: 5,
  sixth: 6,
  eighth: 8,
  tenth: 10,
  twelfth: 12,
};

const SIGN = '(?:(plus|minus|[+\\-\\u2212])\\s*)?';
const WHOLE = '(?:(\\d{1,3})\\s*(?:stops?)?\\s*and\\s*)?';
const PART = `(?:(\\d{1,3}|an?)?\\s*(${Object.keys(PARTS).join('|')})s?(?:\\s*of\\s*a)?`;
const FRACTION = new RegExp(`^${SIGN}${WHOLE}${PART}|(\\d{1,3})\\s*over\\s*(\\d{1,3}))\\s*(?:stops?)?$`);

/** 'plus1third', 'half', '1and1quarter', 'minus7over120', '2stops' as '+1/3', '1/2', '1 1/4', '-7/120', '2'. */
export function stopsFromPlainKeys(text: string): string {
  const small = text.trim().toLowerCase();
  if (/(more|less)$/.test(small))
    throw new UnreadableText(
      `'${text}' leaves open, more or less than what; write the whole amount, as plus1third or minus1half`,
    );
  const fraction = FRACTION.exec(small);
  if (fraction === null) return signed(numberFromPlainKeys(small).replace(/\s*stops?$/, ''));
  const [, sign = '', whole, count, part, over, under] = fraction;
  const [top, bottom] = part === undefined ? [over, under] : [countOf(count), PARTS[part]];
  return signed(`${sign}${whole === undefined ? '' : `${whole} `}${top}/${bottom}`);
}

function countOf(count: string | undefined): string {
  return count === undefined || count.startsWith('a') ? '1' : count;
}

function signed(text: string): string {
  return text.replace(/^plus\s*/, '+').replace(/^minus\s*/, '-');
}

/** '12point5' as '12.5'. */
export function numberFromPlainKeys(text: string): string {
  return text.replace(/(\d)\s*point\s*(?=\d)/gi, '$1.');
}

/** '12 seconds 500 ms', '1minute30' and '12point5s' in the letters that times are written with. */
export function timeFromPlainKeys(text: string): string {
  return numberFromPlainKeys(text)
    .toLowerCase()
    .replace(/\s*(seconds?|secs?)\b/g, 's')
    .replace(/\s*(minutes?|mins?)(?![a-z])/g, 'm');
}
