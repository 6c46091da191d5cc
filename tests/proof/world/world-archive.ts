import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Board } from '../../../host/board/link/board.js';
import type { Archive } from '../../../host/records/archive/archive.js';
import {
  type CollectReport,
  type CollectTarget,
  collectIntoArchive,
} from '../../../host/records/archive/collect-log.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { onFullDisk } from './full-disk.js';

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

  /** The name of a file that one world has for itself. */
  ownFile(): string {
    return join(this.#folder, `own-${this.#worlds}.sqlite`);
  }

  async close(): Promise<void> {
    await this.#archive?.close();
    rmSync(this.#folder, { recursive: true });
  }
}

/** Where an archive is opened for each use of it, or has been all along. */
export interface ArchivePlace {
  use<Result>(work: (archive: Archive) => Promise<Result>): Promise<Result>;
  /** Everything up to here is about to be forgotten by the board. */
  noteHeld(uptoSeq: number): void;
}

/** An archive that stays open. */
export function openPlace(archive: Archive): ArchivePlace {
  return { use: (work) => work(archive), noteHeld: () => {} };
}

/** The disk as one run of the program has it: it may be full, and a killed program writes nothing more. */
export class DiskOfProgram {
  killed = false;
  readonly #place: ArchivePlace;
  readonly #pagesLeft: () => number | undefined;

  /** `pagesLeft` is how much the disk still takes of a file; undefined where there is room. */
  constructor(place: ArchivePlace, pagesLeft: () => number | undefined) {
    this.#place = place;
    this.#pagesLeft = pagesLeft;
  }

  collect(board: Board): Promise<CollectReport> {
    return this.#place.use((archive) => collectIntoArchive(this.#target(archive), board));
  }

  #target(archive: Archive): CollectTarget {
    return {
      file: archive.file,
      latestLog: (board) => archive.latestLog(board),
      keepRecords: async (...args) => {
        if (this.killed) throw new Error('a killed program writes nothing');
        const pagesLeft = this.#pagesLeft();
        if (pagesLeft === undefined) return archive.keepRecords(...args);
        return onFullDisk(pagesLeft, () => archive.keepRecords(...args));
      },
      countHeld: (board, log, fromSeq, uptoSeq) => {
        this.#place.noteHeld(uptoSeq);
        return archive.countHeld(board, log, fromSeq, uptoSeq);
      },
    };
  }
}
