import { mkdirSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Database, default as DatabaseConstructor } from 'libsql';
import { ArchiveError } from '../archive-error.js';
import { bringUpToDate, FORMAT, formatOf, shimOlderFormat } from './archive-format.js';
import { archiveTrouble, damaged } from './archive-trouble.js';
import { putCountsRight, putTriggersRight } from './followed-records.js';
import { textOf } from './rows.js';
import { inTransaction } from './transaction.js';

/** How long to wait for another program that is writing to the same archive. */
const BUSY_MS = 5000;

type Libsql = typeof DatabaseConstructor;

/** The database library, which is loaded only when there is a file to open. @throws ArchiveError */
export async function loadLibsql(file: string): Promise<Libsql> {
  try {
    return (await import('libsql')).default;
  } catch (error) {
    throw new ArchiveError(
      file,
      "the package 'libsql' did not load: run 'npm ci' again with this version of Node",
      { cause: error },
    );
  }
}

/** A connection that cannot change the file, and reads one of an older format as it is. @throws ArchiveError */
export function connectToRead(Libsql: Libsql, file: string): Database {
  return opened(Libsql, file, 'ro', (database) => shimOlderFormat(database, formatToRead(database, file)));
}

/**
 * A connection to read what another has just written, from the file that bears the name now.
 * @throws ArchiveError when that is no longer the file that was written.
 */
export function connectToReadBack(Libsql: Libsql, file: string): Database {
  return opened(Libsql, file, 'ro', () => {});
}

/**
 * Opens a file for writing, makes it if there is none, and brings an older one up to date. One that was there is
 * looked over first. What is committed is on the disk when the commit returns (SQLite's documentation of 'PRAGMA
 * synchronous').
 * @throws ArchiveError when it cannot be opened, is something else, is damaged, or was made by a newer version.
 */
export function connectToWrite(Libsql: Libsql, file: string): Database {
  const isNew = sizeOf(file) === 0;
  if (isNew) makeFolderOf(file);
  return opened(Libsql, file, 'rwc', (database) => {
    database.pragma('journal_mode = DELETE');
    // As FULL, and the folder is synced too when the journal is removed: only then is a commit in this mode for good.
    database.pragma('synchronous = EXTRA');
    if (!isNew) lookOver(database, file);
    inTransaction(database, () => {
      const format = formatOf(database, file);
      if (format < FORMAT) bringUpToDate(database, format);
      else {
        putTriggersRight(database);
        putCountsRight(database);
      }
    });
  });
}

function opened(
  Libsql: Libsql,
  file: string,
  mode: 'ro' | 'rwc',
  prepare: (database: Database) => void,
): Database {
  let database: Database | undefined;
  try {
    database = new Libsql(`${pathToFileURL(file)}?mode=${mode}`, { timeout: BUSY_MS });
    database.pragma(`busy_timeout = ${BUSY_MS}`);
    prepare(database);
    return database;
  } catch (error) {
    database?.close();
    throw archiveTrouble(file, error);
  }
}

function formatToRead(database: Database, file: string): number {
  const format = formatOf(database, file);
  if (format === 0) throw new ArchiveError(file, 'the file is empty', { exitCode: 2 });
  return format;
}

/**
 * The database's own check of everything: 1.5 s for a million records. The quick one takes a third of that and does not
 * see keys that are out of order, behind which readers find nothing.
 */
function lookOver(database: Database, file: string): void {
  const [first] = database
    .prepare('SELECT CAST(integrity_check AS BLOB) AS said FROM pragma_integrity_check(1)')
    .all() as { said: ArrayBuffer }[];
  const said = textOf(first?.said ?? null) ?? '';
  if (said !== 'ok') throw damaged(file, said.split('\n').at(-1)!);
}

function sizeOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
}

function makeFolderOf(file: string): void {
  try {
    mkdirSync(dirname(file), { recursive: true });
  } catch (error) {
    throw archiveTrouble(file, error);
  }
}
