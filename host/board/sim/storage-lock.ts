import { takeLock } from '../../files/process-lock.js';
import { StorageFileError } from './storage-file-error.js';

/**
 * Takes a board's flash file for one board alone, by a lock beside it. Calling the answer lets go.
 * @throws StorageFileError when another board has it
 */
export function lockStorage(file: string): () => void {
  const lock = `${file}.lock`;
  const taken = takeLock(lock);
  if (typeof taken === 'function') return taken;
  const { pid } = taken;
  const who =
    pid === undefined || pid === process.pid
      ? 'another simulated board'
      : `the simulated board of process ${pid}`;
  throw new StorageFileError(
    file,
    `${file} is in use by ${who}: end that one, or name another file; if there is none, remove ${lock}`,
  );
}
