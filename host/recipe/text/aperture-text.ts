/** The lens's stop as engraved, 'f/8', 'f/5.6' or '8', against tenths as the board keeps them. */
import { UnreadableText } from './unreadable-text.js';

export const aperturePattern = '^([fF]/?)?\\d{1,3}(\\.\\d)?$';
const APERTURE = /^(?:[fF]\/?)?(\d{1,3})(?:\.(\d))?$/;
const LEAST_10 = 7;
const MOST_10 = 5120;

/**
 * Reads f/0.7 to f/512 as 7..5120.
 * @throws UnreadableText for anything else.
 */
export function readAperture10(text: string): number {
  const match = APERTURE.exec(text.trim());
  const tenths = match === null ? Number.NaN : Number(`${match[1]}${match[2] ?? '0'}`);
  if (!(tenths >= LEAST_10 && tenths <= MOST_10))
    throw new UnreadableText(`'${text}' is not an aperture; write it as f/8 or f/5.6, from f/0.7 to f/512`);
  return tenths;
}

export function formatAperture10(tenths: number): string {
  return `f/${tenths / 10}`;
}
