/** A line for each piece of advice, and for each caution. */
export function adviceLines(advice: readonly { readonly text: string }[]): string[] {
  return advice.map(({ text }) => `Caution: ${text}.`);
}
