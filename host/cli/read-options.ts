import { settings } from '../../shared-protocol/schema.js';
import { InputError } from '../errors.js';
import type { Lamp } from '../recipe/planner/index.js';
import { MOST_NAME_CHARS, nameFromTitle } from '../recipe/recipe-name.js';
import { readTime } from '../recipe/text/time-text.js';
import { UnreadableText } from '../recipe/text/unreadable-text.js';
import { UsageError } from './usage-error.js';

/** The value of an option, or words that name the option. */
export function readOption<Value>(option: string, text: string, read: (text: string) => Value): Value {
  try {
    return read(text);
  } catch (error) {
    if (error instanceof UnreadableText || error instanceof InputError)
      throw new UsageError(`${option}: ${error.message}`);
    throw error;
  }
}

/**
 * The name of a recipe on the board, whose letters are all small there. Capitals are let pass, because a name is mostly
 * made of a title, and titles have them.
 */
export function readRecipeName(argument: string, text: string): string {
  const name = text.trim().toLowerCase();
  if (name === nameFromTitle(name)) return name;
  throw new UsageError(
    `${argument}: '${text}' is not the name of a recipe; names have small letters, digits and single hyphens, at most ${MOST_NAME_CHARS} characters`,
  );
}

/** A whole number in range, for an option. */
export function readCount(option: string, text: string, least: number, most: number): number {
  const count = /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
  if (count >= least && count <= most) return count;
  throw new UsageError(`${option}: '${text}' is not a whole number from ${least} to ${most}`);
}

/** `--lag` and `--rise` as the planner takes them. */
export function readLamp(options: { readonly lag: string; readonly rise: string }): Lamp {
  return {
    lagMs: lampMs('--lag', options.lag, settings['lamp-lag-ms']),
    riseMs: lampMs('--rise', options.rise, settings['lamp-rise-ms']),
  };
}

/** Unlike an exposure, a lamp's figure may be zero, and a lag below zero; a number alone is milliseconds. */
function lampMs(option: string, text: string, range: { readonly min: number; readonly max: number }): number {
  const [, sign, size = ''] = /^\s*([+-]?)(.*)$/s.exec(text)!;
  const withUnit = /^\d+\s*$/.test(size) ? `${size}ms` : size;
  const ms = /^0*(?:\.0+)?\s*(?:ms|s)?\s*$/.test(size) ? 0 : readOption(option, withUnit, readTime);
  const signedMs = sign === '-' ? -ms : ms;
  if (signedMs >= range.min && signedMs <= range.max) return signedMs;
  throw new UsageError(`${option}: '${text}' is not between ${range.min} ms and ${range.max} ms`);
}
