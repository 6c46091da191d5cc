import { readFile } from 'node:fs/promises';
import { FileError } from '../recipe/index.js';
import { UsageError } from './usage-error.js';

/**
 * A file of the printer's own, for commands that cannot go on without it.
 * @throws UsageError that lists every problem; the errors of the file system as they are.
 */
export async function readOwnFile<Value>(path: string, read: (bytes: Uint8Array) => Value): Promise<Value> {
  const bytes = await readFile(path);
  try {
    return read(bytes);
  } catch (error) {
    if (!(error instanceof FileError)) throw error;
    throw new UsageError(`${path} cannot be used:\n${error.message}`);
  }
}
