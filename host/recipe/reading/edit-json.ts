import { applyEdits, type JSONPath, modify } from 'jsonc-parser';
import { jsonText } from '../../json-text.js';

/**
 * The text of a file in which only what differs between `before` and `after` is changed, so that what somebody laid out
 * by hand stays as it is. Undefined where characters would have to be written as escapes, which no edit does.
 */
export function editJson(text: string, before: unknown, after: unknown): string | undefined {
  if (jsonText(after) !== JSON.stringify(after)) return undefined;
  return differences([], before, after).reduce(
    (now, { path, value, isNew }) =>
      applyEdits(now, modify(now, path, value, { ...LAYOUT, isArrayInsertion: isNew })),
    text,
  );
}

const LAYOUT = { formattingOptions: { insertSpaces: true, tabSize: 2 } };

interface Difference {
  readonly path: JSONPath;
  /** Undefined where it goes. */
  readonly value: unknown;
  /** An entry that a list gets. */
  readonly isNew: boolean;
}

function differences(path: JSONPath, before: unknown, after: unknown): Difference[] {
  if (Array.isArray(before) && Array.isArray(after)) return inLists(path, before, after);
  if (isFields(before) && isFields(after)) return inFields(path, before, after);
  return before === after ? [] : [{ path, value: after, isNew: false }];
}

function inFields(path: JSONPath, before: Fields, after: Fields): Difference[] {
  const names = new Set([...Object.keys(before), ...Object.keys(after)]);
  return [...names].flatMap((name) => differences([...path, name], before[name], after[name]));
}

/** Entry by entry; a list that gets shorter is written anew, since its places no longer say which is which. */
function inLists(path: JSONPath, before: readonly unknown[], after: readonly unknown[]): Difference[] {
  if (after.length < before.length) return [{ path, value: after, isNew: false }];
  return after.flatMap((value, at) =>
    at < before.length
      ? differences([...path, at], before[at], value)
      : [{ path: [...path, at], value, isNew: true }],
  );
}

type Fields = Readonly<Record<string, unknown>>;

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
