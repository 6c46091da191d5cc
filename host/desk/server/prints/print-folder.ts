import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';

import { FileChangedError, FileThereError, fileTrouble } from '../../../files/file-access-error.js';
import { readWholeFile } from '../../../files/read-file.js';
import { writeWholeFile } from '../../../files/write-file.js';
import { mostFileBytes } from '../../../recipe/index.js';
import { readBySchema } from '../../../recipe/reading/read-by-schema.js';
import { PrintError } from './print-error.js';

/** One name in the folder: no way leads out of it, and nothing hidden is meant. */
const NAME = /^[\p{L}\p{N}_][\p{L}\p{N} _.-]{0,99}\.json$/u;
const MOST_LISTED = 1000;

const wanted = z.strictObject({
  name: z.string(),
  text: z.string(),
  /** What the page knows to stand there; null where nothing does. */
  was: z.string().nullable(),
});

/** The folder that the desk was started in, as far as files of recipes go. */
export class PrintFolder {
  readonly #folder: string;

  constructor(folder: string) {
    this.#folder = folder;
  }

  async list(): Promise<string[]> {
    try {
      const names = await readdir(this.#folder);
      return names
        .filter((name) => NAME.test(name))
        .sort()
        .slice(0, MOST_LISTED);
    } catch (error) {
      throw fileTrouble('cannot look into the folder', this.#folder, error);
    }
  }

  async read(name: string): Promise<string> {
    return inText(await this.#bytesOf(name));
  }

  /** Writes over nothing that the page does not know. */
  async write(asked: Uint8Array): Promise<{ path: string }> {
    const { name, text, was } = readBySchema(asked, wanted);
    const path = this.#pathOf(name);
    const there = was === null ? undefined : await this.#bytesOf(name);
    if (there !== undefined && inText(there) !== was) throw changedMeanwhile(name);
    try {
      await writeWholeFile(path, text, there === undefined ? {} : { over: true, was: there });
    } catch (error) {
      if (error instanceof FileChangedError) throw changedMeanwhile(name);
      if (!(error instanceof FileThereError)) throw error;
      throw new PrintError(
        `there is a ${name} in ${this.#folder} already: write under another name, or open that one`,
      );
    }
    return { path };
  }

  #bytesOf(name: string): Promise<Uint8Array> {
    return readWholeFile(this.#pathOf(name), mostFileBytes);
  }

  #pathOf(name: string): string {
    if (!NAME.test(name))
      throw new PrintError(`'${name}' is no name for a recipe's file: write it as slipway.json`);
    return join(this.#folder, name);
  }
}

function inText(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}

function changedMeanwhile(name: string): PrintError {
  return new PrintError(
    `${name} was changed meanwhile by something else; nothing was written: open it again`,
  );
}
