import { copyFileSync, existsSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import type { Clock } from '../../../host/clock.js';
import type { Archive, ArchivedRecord } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { ArchiveError } from '../../../host/records/archive-error.js';
import { logEntries } from '../../../host/records/log/log-entry.js';
import { listOf } from '../../setup/list-of.js';
import type { Random } from '../../setup/random.js';
import type { ArchivePlace } from './world-archive.js';

/** The words that tell a person to take another file. */
const REFUSED = /damaged|is no archive|of another program|by a newer treadle/;

/**
 * An archive of a world's own, opened for each collect as the command line does it, on a disk that rots between two. A
 * file that is refused in words gives way to the sound copy that was kept of it, as from a backup.
 */
export class RottingArchive implements ArchivePlace {
  readonly file: string;
  /** Entries that the disk itself lost or changed after the board may have forgotten them, and that nobody can notice. */
  readonly rotten = new Set<number>();
  rotted = 0;
  refused = 0;
  readonly #random: Random;
  readonly #clock: Clock;
  /** The highest entry that the board may have been told to forget. */
  #forgottenUpto = 0;
  #users = 0;
  /** What rotted since the file was opened last. */
  #pending: number[] | undefined;
  /** From the rot on, until a collect has found the file good. */
  #isSuspect = false;
  #rottenBefore: readonly number[] = [];
  #rotting: Promise<void> = Promise.resolve();

  constructor(file: string, random: Random, clock: Clock) {
    this.file = file;
    this.#random = random;
    this.#clock = clock;
  }

  /** Opens it, does `work` with it and closes it. */
  async use<Result>(work: (archive: Archive) => Promise<Result>): Promise<Result> {
    await this.#rotting;
    this.#users++;
    try {
      await using archive = await this.#open();
      return await work(archive);
    } catch (error) {
      if (this.#isSuspect && error instanceof ArchiveError && REFUSED.test(error.message)) this.#restore();
      throw error;
    } finally {
      this.#users--;
    }
  }

  noteHeld(uptoSeq: number): void {
    this.#isSuspect = false;
    this.#forgottenUpto = Math.max(this.#forgottenUpto, uptoSeq);
  }

  /** Bits of the file flip, or it is cut short: between two collects, and once between two. */
  rot(): Promise<void> {
    if (this.#users === 0 && this.#pending === undefined && existsSync(this.file))
      this.#rotting = this.#rotOnce();
    return this.#rotting;
  }

  /** Whoever was refused tries again with the copy. @throws what had another reason. */
  async retryAfter(error: unknown): Promise<void> {
    if (!(error instanceof ArchiveError) || !REFUSED.test(error.message) || this.#isSuspect) throw error;
  }

  async #rotOnce(): Promise<void> {
    this.#pending = [];
    this.#isSuspect = true;
    this.#rottenBefore = [...this.rotten];
    this.rotted++;
    const before = await this.#read();
    copyFileSync(this.file, this.#soundCopy);
    this.#damage();
    const after = await this.#read();
    this.#pending = [...(before ?? [])]
      .filter(([seq, text]) => after?.get(seq) !== text && seq <= this.#forgottenUpto)
      .map(([seq]) => seq);
  }

  get #soundCopy(): string {
    return `${this.file}.sound`;
  }

  async #open(): Promise<Archive> {
    const archive = await openArchive(this.file, this.#clock);
    for (const seq of this.#pending ?? []) this.rotten.add(seq);
    this.#pending = undefined;
    return archive;
  }

  /** Puts the sound copy in the place of a file that was refused before anything was forgotten for it. */
  #restore(): void {
    this.refused++;
    copyFileSync(this.#soundCopy, this.file);
    this.#pending = undefined;
    this.rotten.clear();
    for (const seq of this.#rottenBefore) this.rotten.add(seq);
    this.#isSuspect = false;
  }

  /** What a reader finds; undefined where it is told that the file is damaged. */
  async #read(): Promise<Map<number, string> | undefined> {
    try {
      await using archive = await readArchive(this.file);
      const records = await listOf(archive.records());
      await listOf(logEntries(records));
      await listOf(archive.nights());
      return new Map(records.map((record) => [record.seq, textOf(record)]));
    } catch (error) {
      if (error instanceof ArchiveError) return undefined;
      throw error;
    }
  }

  #damage(): void {
    const bytes = readFileSync(this.file);
    if (this.#random.chance(0.2)) {
      truncateSync(this.file, this.#random.below(bytes.length));
      return;
    }
    for (let flips = this.#random.pick([1, 1, 2, 5, 40]); flips > 0; flips--)
      bytes[this.#random.below(bytes.length)]! ^= 1 << this.#random.below(8);
    writeFileSync(this.file, bytes);
  }
}

function textOf({ type, fields, log, boot, uptimeMs }: ArchivedRecord): string {
  return JSON.stringify([type, fields, log, boot, uptimeMs]);
}
