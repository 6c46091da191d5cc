import { LAST_VERSION, NoVersionLeftError } from './last-version.js';
import type { Recipe } from './recipe.js';
import { formatTime } from './text/time-text.js';

/** As the recipe file's schema has it: characters of a line, and lines kept. */
const LINE_CHARS = 80;
const LINES_KEPT = 200;

/**
 * The changed recipe as its next version, with dated lines about the change after its history.
 * @throws NoVersionLeftError
 */
export function revised(before: Recipe, changed: Recipe, lines: readonly string[], at: Date): Recipe {
  if (before.version >= LAST_VERSION) throw new NoVersionLeftError(before.name);
  return { ...withHistory(before, changed, lines, at), version: before.version + 1 };
}

/** The changed recipe with dated lines about the change after its history; beyond 200 lines the oldest go. */
export function withHistory(before: Recipe, changed: Recipe, lines: readonly string[], at: Date): Recipe {
  const day = at.toISOString().slice(0, 10);
  const base =
    before.baseMs === changed.baseMs
      ? []
      : [`base ${formatTime(before.baseMs)} to ${formatTime(changed.baseMs)}`];
  const dated = [...lines, ...base].map((line) => shortened(`${day} ${line}`));
  return { ...changed, history: [...before.history, ...dated].slice(-LINES_KEPT) };
}

function shortened(line: string): string {
  const characters = [...line];
  return characters.length <= LINE_CHARS ? line : `${characters.slice(0, LINE_CHARS - 1).join('')}…`;
}
