import { writeFile } from 'node:fs/promises';
import { UsageError } from './usage-error.js';

/** Writes a file that must not be there yet, unless `over` says that it may. */
export async function writeNewFile(path: string, text: string, over: boolean): Promise<void> {
  try {
    await writeFile(path, text, { flag: over ? 'w' : 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    throw new UsageError(`${path} is there already: name another file, or add --force to write over it`);
  }
}
