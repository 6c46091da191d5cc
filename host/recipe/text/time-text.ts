/** Times as people write them, '12.5s', '450ms', '1m30s', or '12.5' where seconds are meant, against whole milliseconds. */
import { limits } from '../../../shared-protocol/limits.js';
import { UnreadableText } from './unreadable-text.js';

const MS_IN: Record<string, number> = { h: 3_600_000, m: 60_000, min: 60_000, s: 1000, ms: 1 };

export const timePattern = '^\\s*(\\d{1,4}(\\.\\d{1,6})?\\s*(h|min|m|ms|s)\\s*)+$';
/** An exposure's unit may be left out: nobody exposes paper by the hour. */
export const exposurePattern = `${timePattern}|^\\s*\\d{1,4}(\\.\\d{1,6})?\\s*$`;
const TIME = new RegExp(timePattern);
const BARE = /^\s*\d{1,4}(\.\d{1,6})?\s*$/;
const PIECE = /(\d+)(?:\.(\d+))?\s*(h|min|ms|m|s)/g;

/** Whether it says by its unit that it is a time. */
export function isTime(text: string): boolean {
  return TIME.test(text);
}

/**
 * Reads a time from 1 ms to 1 h.
 * @throws UnreadableText for a time without its unit, finer than a millisecond, or out of range.
 */
export function readTime(text: string): number {
  return millisecondsOf(text, text);
}

/** @param text the time with its unit; what cannot be is quoted as it was written */
function millisecondsOf(text: string, written: string): number {
  if (/\d,\d/.test(written))
    throw new UnreadableText(`'${written}' has a comma; write its decimals after a point, as 12.5s`);
  if (!TIME.test(text))
    throw new UnreadableText(`'${written}' is not a time; write it with its unit, as 12.5s, 450ms or 1m30s`);
  let ms = 0;
  for (const [, whole, digits = '', unit] of text.matchAll(PIECE)) {
    ms += (Number(whole! + digits) * MS_IN[unit!]!) / 10 ** digits.length;
  }
  if (!Number.isInteger(ms)) throw new UnreadableText(`'${written}' is finer than a millisecond`);
  if (ms < 1 || ms > limits.longestDoseMs)
    throw new UnreadableText(`'${written}' is out of range; from 0.001s to 1h is possible`);
  return ms;
}

/**
 * Reads the time of an exposure, in which a number alone is seconds.
 * @throws UnreadableText as `readTime`.
 */
export function readExposure(text: string): number {
  return millisecondsOf(BARE.test(text) ? `${text}s` : text, text);
}

/** Whole milliseconds as seconds, no digit more than they have: 12500 -> '12.5s'. */
export function formatTime(ms: number): string {
  return `${ms / 1000}s`;
}
