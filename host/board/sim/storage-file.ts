import { closeSync, fstatSync, openSync, readSync, realpathSync, writeSync } from 'node:fs';
import { fileTrouble } from '../../files/file-access-error.js';
import { StorageFileError } from './storage-file-error.js';
import { lockStorage } from './storage-lock.js';

/** The file behind a simulated board's flash, open for this board alone. */
export class StorageFile {
  readonly #file: number;
  readonly #unlock: () => void;

  private constructor(file: number, unlock: () => void) {
    this.#file = file;
    this.#unlock = unlock;
  }

  /**
   * Opens it, or makes it with `blank` in it, and gives what it holds.
   * @throws StorageFileError for a file of another size, or one that another board has; FileAccessError
   */
  static open(path: string, blank: Uint8Array): { readonly file: StorageFile; readonly bytes: Uint8Array } {
    try {
      const opened = openOrCreate(path, blank);
      try {
        const bytes = readAll(path, opened, blank.length);
        // By its true name, so that a link to it leads to the same lock.
        return { file: new StorageFile(opened, lockStorage(realpathSync(path))), bytes };
      } catch (error) {
        closeSync(opened);
        throw error;
      }
    } catch (error) {
      if (error instanceof StorageFileError) throw error;
      throw fileTrouble("cannot use as a board's flash", path, error);
    }
  }

  write(bytes: Uint8Array, offset: number): void {
    writeSync(this.#file, bytes, 0, bytes.length, offset);
  }

  close(): void {
    closeSync(this.#file);
    this.#unlock();
  }
}

function openOrCreate(path: string, blank: Uint8Array): number {
  try {
    const made = openSync(path, 'wx+');
    writeSync(made, blank);
    return made;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    return openSync(path, 'r+');
  }
}

/** The size is looked at before anything is read: a device, or a file of gigabytes, is no flash. */
function readAll(path: string, file: number, size: number): Uint8Array {
  const found = fstatSync(file);
  if (!found.isFile())
    throw new StorageFileError(path, `${path} is no plain file: name another for --storage`);
  if (found.size !== size)
    throw new StorageFileError(
      path,
      `${path} holds ${found.size} bytes, and a board's flash ${size}: it is not one; name another file for --storage`,
    );
  const bytes = new Uint8Array(size);
  for (let at = 0; at < size; ) {
    const read = readSync(file, bytes, at, size - at, at);
    if (read === 0) throw new StorageFileError(path, `${path} changes while it is read`);
    at += read;
  }
  return bytes;
}
