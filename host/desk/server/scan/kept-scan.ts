import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from '../../../files/make-folder.js';
import { readWholeFile } from '../../../files/read-file.js';
import { writeWholeFile } from '../../../files/write-file.js';
import { archivePath, usualArchiveFile } from '../../../records/archive/archive-name.js';

/** A scan as the page gets it, and a name after it. */
const MOST_BYTES = 40_000_000;

/** The scan that lies on the desk, small, in a file beside the archive, so that it lies there at the next start. */
export class KeptScan {
  readonly #path: string;

  constructor(archive: string | undefined) {
    this.#path = `${archivePath(archive ?? usualArchiveFile()).path}.desk.scan`;
  }

  /** @param pixels width, height and codes, as the page gets them */
  async write(pixels: Uint8Array, name: string): Promise<void> {
    await makeFolder(dirname(this.#path));
    await writeWholeFile(this.#path, Buffer.concat([pixels, Buffer.from(name)]), { over: true });
  }

  /** Nothing where no scan was laid yet. */
  async read(): Promise<Uint8Array> {
    return existsSync(this.#path) ? readWholeFile(this.#path, MOST_BYTES) : new Uint8Array();
  }
}
