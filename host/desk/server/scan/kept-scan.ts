import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from '../../../files/make-folder.js';
import { readWholeFile } from '../../../files/read-file.js';
import { writeWholeFile } from '../../../files/write-file.js';
import { archivePath, usualArchiveFile } from '../../../records/archive/archive-name.js';

/** A scan as the page gets it, and a name after it. */
const MOST_BYTES = 40_000_000;
/** Width and height come before the codes. */
const HEAD_BYTES = 4;

/** Codes of 16 bits in rows from the top left. */
export interface DeskScan {
  readonly width: number;
  readonly height: number;
  readonly samples: Uint16Array<ArrayBuffer>;
}

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

  /** Undefined where none lies there. */
  async pixels(): Promise<DeskScan | undefined> {
    const bytes = Uint8Array.from(await this.read()).buffer;
    if (bytes.byteLength <= HEAD_BYTES) return undefined;
    const [width, height] = new Uint16Array(bytes, 0, 2) as unknown as [number, number];
    if (bytes.byteLength < HEAD_BYTES + 2 * width * height) return undefined;
    return { width, height, samples: new Uint16Array(bytes, HEAD_BYTES, width * height) };
  }
}
