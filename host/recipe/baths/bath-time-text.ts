/** Times of baths as people write them, '90s', '2m30s', '1h', against whole seconds. */
import { limits } from '../../../shared-protocol/limits.js';
import { readTime, timePattern } from '../text/time-text.js';
import { UnreadableText } from '../text/unreadable-text.js';

export const bathTimePattern = timePattern;
const NOTHING = /^\s*0+(\.0+)?\s*(h|min|m|ms|s)\s*$/;

/** Bytes of the line: one for draining and agitating, and for a bath no more than the longest time there is. */
export const longestSeconds = { bath: limits.longestDoseMs / 1000, drain: 0xff, agitation: 0xff } as const;

/**
 * Reads 0 s or 1 s up to `mostSeconds`.
 * @throws UnreadableText for a time without its unit, finer than a second, or out of range.
 */
export function readBathTime(text: string, mostSeconds: number): number {
  if (NOTHING.test(text)) return 0;
  const seconds = readTime(text) / 1000;
  if (!Number.isInteger(seconds)) throw new UnreadableText(`'${text}' is finer than a second`);
  if (seconds > mostSeconds)
    throw new UnreadableText(`'${text}' is too long; at most ${formatBathTime(mostSeconds)} is possible`);
  return seconds;
}

/** 90 -> '1m30s', 45 -> '45s', 3600 -> '1h', 0 -> '0s'. */
export function formatBathTime(seconds: number): string {
  const pieces = [
    [Math.floor(seconds / 3600), 'h'],
    [Math.floor(seconds / 60) % 60, 'm'],
    [seconds % 60, 's'],
  ] as const;
  return (
    pieces
      .filter(([count]) => count > 0)
      .map(([count, unit]) => `${count}${unit}`)
      .join('') || '0s'
  );
}
