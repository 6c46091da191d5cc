import type { Advice } from '../../daylight/advice.js';

/** A line for each piece of advice. */
export function adviceLines(advice: readonly Advice[]): string[] {
  return advice.map(({ text }) => `Mind: ${text}.`);
}
