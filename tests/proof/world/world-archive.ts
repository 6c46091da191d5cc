import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Archive } from '../../../host/records/archive/archive.js';
import { archiveTrouble } from '../../../host/records/archive/archive-trouble.js';
import type { CollectTarget } from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';

/** Where there is one, a disk in memory: every commit waits for the disk, and thousands of worlds commit. */
const MEMORY_DISK = '/dev/shm';
/** Worlds that share one file: each is a board of its own in it, and a small file is quick. */
const WORLDS_A_FILE = 100;

/** Where worlds keep what they pull: real archives, in a folder that goes when the process does. */
export class ArchiveShelf {
  readonly #folder = mkdtempSync(join(existsSync(MEMORY_DISK) ? MEMORY_DISK : tmpdir(), 'treadle-worlds-'));
  #archive: Archive | undefined;
  #worlds = 0;

  async open(): Promise<Archive> {
    if (this.#archive === undefined || this.#worlds++ % WORLDS_A_FILE === 0) {
      await this.#archive?.close();
      this.#archive = await openArchive(join(this.#folder, `${this.#worlds}.sqlite`));
    }
    return this.#archive;
  }

  async close(): Promise<void> {
    await this.#archive?.close();
    rmSync(this.#folder, { recursive: true });
  }
}

/** The archive as one run of the program has it: the disk may be full, and a killed program writes nothing more. */
export class DiskOfProgram implements CollectTarget {
  killed = false;
  readonly file: string;
  readonly #archive: Archive;
  readonly #isFull: () => boolean;

  constructor(archive: Archive, isFull: () => boolean) {
    this.file = archive.file;
    this.#archive = archive;
    this.#isFull = isFull;
  }

  latestLog(board: string): ReturnType<Archive['latestLog']> {
    return this.#archive.latestLog(board);
  }

  async keepRecords(...args: Parameters<Archive['keepRecords']>): Promise<number> {
    if (this.killed) throw new Error('a killed program writes nothing');
    if (this.#isFull()) throw archiveTrouble(this.#archive.file, new Error('database or disk is full'));
    return this.#archive.keepRecords(...args);
  }

  countHeld(...args: Parameters<Archive['countHeld']>): Promise<number> {
    return this.#archive.countHeld(...args);
  }
}
