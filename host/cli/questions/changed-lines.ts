import { changed } from '../../recipe/recipe-differences.js';

/** What is shown of something, each with a name of its own. */
export type Shown = readonly (readonly [name: string, value: string])[];

/** 'step +1/2 -> +1', a line for each that differs; what came new was none, and what went is none. */
export function changedLines(before: Shown, after: Shown): string[] {
  const was = new Map(before);
  const is = new Map(after);
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((name) =>
    changed(name, was.get(name) || 'none', is.get(name) || 'none'),
  );
}
