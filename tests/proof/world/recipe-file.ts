import {
  accessSync,
  closeSync,
  existsSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  statSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { type Disk, writeWholeFile } from '../../../host/files/write-file.js';
import type { Random } from '../../setup/random.js';

/** A recipe's file on the laptop, which bears the old text or the new one, whole, whatever becomes of the writing. */
export class RecipeFile {
  readonly #path: string;
  readonly #random: Random;
  readonly #isFull: () => boolean;
  #possible = new Set<string | undefined>([undefined]);

  constructor(path: string, random: Random, isFull: () => boolean) {
    this.#path = path;
    this.#random = random;
    this.#isFull = isFull;
  }

  /** @throws FileAccessError when the disk is full */
  async save(text: string): Promise<void> {
    this.#possible.add(text);
    await writeWholeFile(this.#path, text, { over: true, disk: this.#disk() });
    this.#possible = new Set([text]);
  }

  /** Words for a file that is neither the old nor the new one. */
  get fault(): string | undefined {
    const text = existsSync(this.#path) ? readFileSync(this.#path, 'utf8') : undefined;
    return this.#possible.has(text) ? undefined : `the recipe's file holds ${JSON.stringify(text)}`;
  }

  /** The real disk, step by step on the world's own time; a full one takes a part of what is written, or nothing. */
  #disk(): Disk {
    const takes = () => {
      if (this.#isFull()) throw Object.assign(new Error('ENOSPC: no space left'), { code: 'ENOSPC' });
    };
    const write = async (file: number, content: string) => {
      if (this.#isFull()) writeSync(file, content.slice(0, this.#random.below(content.length)));
      takes();
      writeSync(file, content);
    };
    const open = async (path: string, flags: string) => {
      if (flags !== 'r' && this.#random.chance(0.2)) takes();
      const file = openSync(path, flags);
      return {
        writeFile: (content: string) => write(file, content),
        chmod: async () => {},
        sync: async () => fsyncSync(file),
        close: async () => closeSync(file),
      };
    };
    return {
      open,
      access: async (path: string, mode: number) => accessSync(path, mode),
      stat: async (path: string) => statSync(path),
      realpath: async (path: string) => path,
      rename: async (from: string, to: string) => {
        takes();
        renameSync(from, to);
      },
      unlink: async (path: string) => unlinkSync(path),
    } as unknown as Disk;
  }
}
