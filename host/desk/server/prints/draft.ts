import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { makeFolder } from '../../../files/make-folder.js';
import { readWholeFile } from '../../../files/read-file.js';
import { writeWholeFile } from '../../../files/write-file.js';
import { archivePath, usualArchiveFile } from '../../../records/archive/archive-name.js';
import { InTurn } from '../../in-turn.js';

export interface DraftKept {
  readonly revision: number;
  /** No other page wrote since this one read or wrote. */
  readonly isAlone: boolean;
}

const MOST_BYTES = 2_000_000;

/** What is being worked on, in a file beside the archive, so that it is there at the next start. */
export class Draft {
  readonly #path: string;
  readonly #inTurn = new InTurn();
  /** Rises with each writing, so that a page learns of another's. */
  #revision = 0;

  constructor(archive: string | undefined) {
    this.#path = `${archivePath(archive ?? usualArchiveFile()).path}.desk.json`;
  }

  /** As it was written, which is for the page to make sense of; null where there is nothing. */
  async tell(): Promise<string> {
    return this.#inTurn.do(async () => {
      const bytes = existsSync(this.#path) ? await readWholeFile(this.#path, MOST_BYTES) : undefined;
      const draft = bytes === undefined ? 'null' : new TextDecoder().decode(bytes);
      return `{"revision":${this.#revision},"draft":${draft}}`;
    });
  }

  /** What came last is kept; the page that sent it is told where another had written since it last knew. */
  write(bytes: Uint8Array, since: string | null): Promise<DraftKept> {
    return this.#inTurn.do(async () => {
      await makeFolder(dirname(this.#path));
      await writeWholeFile(this.#path, bytes, { over: true });
      const isAlone = since === null || Number(since) === this.#revision;
      this.#revision++;
      return { revision: this.#revision, isAlone };
    });
  }
}
