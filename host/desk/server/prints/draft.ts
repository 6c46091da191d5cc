import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from '../../../files/make-folder.js';
import { readWholeFile } from '../../../files/read-file.js';
import { writeWholeFile } from '../../../files/write-file.js';
import { archivePath, usualArchiveFile } from '../../../records/archive/archive-name.js';

const MOST_BYTES = 2_000_000;

/** What is being worked on, in a file beside the archive, so that it is there at the next start. */
export class Draft {
  readonly #path: string;
  /** One after another: the last that was sent is the last that is written. */
  #writing: Promise<unknown> = Promise.resolve();

  constructor(archive: string | undefined) {
    this.#path = `${archivePath(archive ?? usualArchiveFile()).path}.desk.json`;
  }

  /** As it was written, which is for the page to make sense of; 'null' where there is nothing. */
  async read(): Promise<Uint8Array | string> {
    return existsSync(this.#path) ? readWholeFile(this.#path, MOST_BYTES) : 'null';
  }

  write(bytes: Uint8Array): Promise<unknown> {
    const next = async () => {
      await makeFolder(dirname(this.#path));
      await writeWholeFile(this.#path, bytes, { over: true });
    };
    this.#writing = this.#writing.then(next, next);
    return this.#writing;
  }
}
