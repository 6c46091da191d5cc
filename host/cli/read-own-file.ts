import { readWholeFile, STANDARD_INPUT } from '../files/read-file.js';
import { FileError, mostFileBytes } from '../recipe/index.js';
import { namingOption } from './naming-option.js';
import { UsageError } from './usage-error.js';

/**
 * A file of the printer's own, for commands that cannot go on without it; '-' is standard input.
 * @param option what named it, for words about trouble with it
 * @throws UsageError that lists every problem; FileAccessError
 */
export async function readOwnFile<Value>(
  path: string,
  option: string,
  read: (bytes: Uint8Array) => Value,
): Promise<Value> {
  return readAs(path, await ownBytes(path, option), read);
}

/** What was read of a file already. @throws UsageError that lists every problem */
export function readAs<Value>(path: string, bytes: Uint8Array, read: (bytes: Uint8Array) => Value): Value {
  try {
    return read(bytes);
  } catch (error) {
    if (!(error instanceof FileError)) throw error;
    throw new UsageError(`${nameOf(path)} cannot be used:\n${error.message}`);
  }
}

/** A file's name in words for people. */
export function nameOf(path: string): string {
  return path === STANDARD_INPUT ? 'standard input' : path;
}

/** The same, unread. @throws FileAccessError */
export function ownBytes(path: string, option: string): Promise<Uint8Array> {
  return namingOption(option, () => readWholeFile(path, mostFileBytes));
}
