/**
 * Stops as people write them, '+1/3', '-1/2', '1 1/4', '0.5', '0', against whole 1/120 stops. Every fraction of
 * halves, thirds, quarters, fifths, sixths, eighths, tenths or twelfths is exact; any other is refused, not bent.
 * An offset of a recipe may have decimals of a stop as well, as one that came of a time: '+0.584963'.
 */
import { limits } from '../../../shared-protocol/limits.js';
import { fromStops3M, toStops3M } from '../fine-stops.js';
import { UnreadableText } from './unreadable-text.js';

const PARTS = limits.stopParts;
/** A knob at its widest leaves the fine part as it was: what a board can hold can be written and read. */
const MOST_FINE_PARTS = limits.offsetStops120 + 0.4999;
const MOST_STOPS = limits.offsetStops120 / PARTS;

/** The sign may be a typographer's minus; a mixed number has a space. */
export const stopPattern = '^\\s*[+\\-\\u2212]?\\s*(\\d{1,3} +)?\\d{1,3}(/\\d{1,3}|\\.\\d{1,4})?\\s*$';
const FRACTION = /^([+\-\u2212])?\s*(?:(\d{1,3})\s+)?(\d{1,3})\/(\d{1,3})$/;
export const offsetPattern = stopPattern.replace('\\d{1,4}', '\\d{1,7}');
const DECIMAL = /^([+\-\u2212])?\s*(\d{1,3})(?:\.(\d{1,7}))?$/;

/**
 * Reads -10 to +10 stops as -1200..1200.
 * @throws UnreadableText for anything else, and for what is not a whole number of 1/120 stop.
 */
export function readStops(text: string): number {
  const { parts, denominator } = partsOf(text);
  if (parts % denominator !== 0) throw notWhole(text, parts / denominator);
  return parts / denominator + 0; // no negative zero
}

/**
 * The same where decimals need not be whole 1/120: they are read to the nearest 1/3,000,000 stop.
 * @throws UnreadableText
 */
export function readOffset(text: string): number {
  const { parts, denominator } = partsOf(text, MOST_FINE_PARTS);
  if (parts % denominator !== 0 && text.includes('/')) throw notWhole(text, parts / denominator);
  return fromStops3M(toStops3M(parts / denominator));
}

function partsOf(text: string, most: number = limits.offsetStops120): { parts: number; denominator: number } {
  const { sign, numerator, denominator } = fractionOf(text);
  const parts = sign * numerator * PARTS;
  if (Math.abs(parts) > most * denominator)
    throw new UnreadableText(`'${text}' is more than ${MOST_STOPS} stops, the widest offset there is`);
  return { parts, denominator };
}

function notWhole(text: string, parts: number): UnreadableText {
  return new UnreadableText(
    `'${text}' is not a whole number of 1/${PARTS} stop; halves, thirds, quarters, fifths, sixths, eighths, tenths ` +
      `and twelfths are (the nearest are ${neighbours(parts)})`,
  );
}

function fractionOf(text: string): { sign: number; numerator: number; denominator: number } {
  const trimmed = text.trim();
  const fraction = FRACTION.exec(trimmed);
  if (fraction !== null) {
    const [, sign, whole, over, under] = fraction;
    const denominator = Number(under);
    if (denominator === 0) throw new UnreadableText(`'${text}' divides by nothing`);
    return { sign: signOf(sign), numerator: Number(whole ?? 0) * denominator + Number(over), denominator };
  }
  const decimal = DECIMAL.exec(trimmed);
  if (decimal === null)
    throw new UnreadableText(`'${text}' is not a number of stops; write it as +1/3, -1/2, 1 1/4 or 0.5`);
  const [, sign, whole, digits = ''] = decimal;
  return { sign: signOf(sign), numerator: Number(whole + digits), denominator: 10 ** digits.length };
}

function signOf(sign: string | undefined): 1 | -1 {
  return sign === undefined || sign === '+' ? 1 : -1;
}

function neighbours(parts: number): string {
  return `${formatStops(Math.floor(parts))} and ${formatStops(Math.ceil(parts))}`;
}

/** 1/120 stops as people write them: 40 -> '+1/3', -150 -> '-1 1/4', 0 -> '0'; what is not whole in decimals. */
export function formatStops(stops120: number): string {
  if (stops120 === 0) return '0';
  const parts = Math.abs(stops120);
  if (!Number.isInteger(parts)) return `${stops120 < 0 ? '-' : '+'}${decimals(parts / PARTS)}`;
  const whole = Math.floor(parts / PARTS);
  const rest = parts % PARTS;
  const divisor = greatestCommonDivisor(rest, PARTS);
  const fraction = rest === 0 ? '' : `${rest / divisor}/${PARTS / divisor}`;
  const number = whole === 0 ? fraction : `${whole} ${fraction}`.trim();
  return `${stops120 < 0 ? '-' : '+'}${number}`;
}

/** Six, where they say it: a seventh is below what the core can tell apart, but one of them may be needed. */
function decimals(stops: number): string {
  const six = stops.toFixed(6);
  return Number(stops.toFixed(7)) === Number(six) ? String(Number(six)) : stops.toFixed(7);
}

function greatestCommonDivisor(one: number, other: number): number {
  return other === 0 ? one : greatestCommonDivisor(other, one % other);
}
