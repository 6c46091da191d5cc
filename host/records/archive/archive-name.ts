import { accessSync, constants, type Stats, statSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import envPaths from 'env-paths';
import { ArchiveError } from '../archive-error.js';

/** What the database library would take for something else than a file: a scheme as in a web address. */
const SCHEME = /^[a-z][a-z0-9+.-]+:/i;

/** The archive that is used when no other is named: in the user's data folder, as the platform has it. */
export function usualArchiveFile(): string {
  return join(envPaths('treadle', { suffix: '' }).data, 'archive.sqlite');
}

/**
 * The whole path of an archive, and what is there. Only a plain file may stand behind a board's forgetting: not
 * memory, not the other end of a network, not a device.
 * @throws ArchiveError for everything that is no plain file and cannot become one
 */
export function archivePath(name: string): { path: string; there: Stats | undefined } {
  refuseOtherThanFiles(name);
  const path = resolve(name);
  const there = statOf(path);
  if (there?.isDirectory() || /[/\\]$/.test(name)) throw refused(name, 'that is a folder; name a file in it');
  if (there !== undefined && !there.isFile())
    throw refused(name, 'that is a pipe or a device, which keeps nothing; name a plain file');
  return { path, there };
}

/** Whether a file could be made there, without making anything. @throws ArchiveError */
export function checkCouldBeMade(path: string): void {
  let folder = dirname(path);
  while (statOf(folder) === undefined && folder !== dirname(folder)) folder = dirname(folder);
  try {
    if (!statSync(folder).isDirectory()) throw refused(path, `${folder} is a file, not a folder`);
    accessSync(folder, constants.W_OK | constants.X_OK);
  } catch (error) {
    if (error instanceof ArchiveError) throw error;
    throw refused(path, `it cannot be opened: you may not make files in ${folder}`, error);
  }
}

function refuseOtherThanFiles(name: string): void {
  if (name.trim() === '')
    throw refused("''", 'its name is empty; give a file, or leave it out (and unset TREADLE_ARCHIVE)');
  if (name.includes('\0')) throw refused(JSON.stringify(name), 'no file has such a name');
  if (name === ':memory:' || SCHEME.test(name))
    throw refused(
      name,
      `an archive is a file on a disk; name one, and if this is the name of a file, write ./${name}`,
    );
}

function statOf(path: string): Stats | undefined {
  try {
    return statSync(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'ENOENT') return undefined;
    if (code === 'ENOTDIR') throw refused(path, 'it cannot be opened: part of that path is a file', error);
    throw refused(path, `it cannot be opened: ${(error as Error).message}`, error);
  }
}

function refused(name: string, why: string, cause?: unknown): ArchiveError {
  return new ArchiveError(name, why, { exitCode: 2, cause });
}
