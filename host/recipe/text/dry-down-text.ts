/** How much less light a paper that dries darker gets, '8%', '8.5%' or '8', against tenths of a per cent. */
import { UnreadableText } from './unreadable-text.js';

export const dryDownPattern = '^\\s*\\d{1,2}(\\.\\d)?\\s*%?\\s*$';
const DRY_DOWN = /^(\d{1,2})(?:\.(\d))?\s*%?$/;
const MOST_10 = 500;

/**
 * Reads 0 to 50 per cent as 0..500.
 * @throws UnreadableText for anything else.
 */
export function readDryDown10(text: string): number {
  const match = DRY_DOWN.exec(text.trim());
  const tenths = match === null ? Number.NaN : Number(`${match[1]}${match[2] ?? '0'}`);
  if (!(tenths <= MOST_10))
    throw new UnreadableText(`'${text}' is not a dry-down; write it as 8% or 8.5%, from 0% to 50%`);
  return tenths;
}

export function formatDryDown10(tenths: number): string {
  return `${tenths / 10}%`;
}
