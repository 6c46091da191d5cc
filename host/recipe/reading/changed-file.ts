import { jsonText } from '../../json-text.js';
import { editJson } from './edit-json.js';

/** How something stands in a file of its own. */
export interface InFile<Value> {
  /** @throws FileError */
  read(text: string): Value;
  file(value: Value): object;
}

/** The text of a new file. */
export function newFileText<Value>(kind: Pick<InFile<Value>, 'file'>, value: Value): string {
  return `${jsonText(kind.file(value), 2)}\n`;
}

/** A file with what was changed, in the layout that it has; anew where that does not come to the same. */
export function changedFileText<Value>(
  kind: InFile<Value>,
  text: string,
  before: Value,
  after: Value,
): string {
  const anew = newFileText(kind, after);
  const edited = editJson(text, kind.file(before), kind.file(after));
  return edited !== undefined && readsAs(kind, edited, anew) ? edited : anew;
}

function readsAs<Value>(kind: InFile<Value>, edited: string, anew: string): boolean {
  try {
    return newFileText(kind, kind.read(edited)) === anew;
  } catch {
    return false;
  }
}
