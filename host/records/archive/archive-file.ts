import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import envPaths from 'env-paths';
import type { Database, default as DatabaseConstructor } from 'libsql';
import { ArchiveError } from '../archive-error.js';
import { inTransaction } from './transaction.js';

/** Marks a SQLite file as an archive of treadle ('TrdA'), so that no other database is ever written to. */
const APPLICATION_ID = 0x5472_6441;
/** How long to wait for another program that is writing to the same archive. */
const BUSY_MS = 5000;

/** Each step from one version of the file to the next; the file's `user_version` counts those it has taken. */
const migrations: readonly string[] = [
  `CREATE TABLE record (
     board TEXT NOT NULL,
     -- Rises when a board's numbering began anew, after its storage was wiped.
     log INTEGER NOT NULL,
     boot INTEGER NOT NULL,
     seq INTEGER NOT NULL,
     uptime_ms INTEGER NOT NULL,
     type TEXT NOT NULL,
     -- All fields in the order of the wire, as the schema of that hash has them.
     fields TEXT NOT NULL,
     schema_hash TEXT NOT NULL,
     pulled_ms INTEGER NOT NULL,
     PRIMARY KEY (board, log, boot, seq)
   ) STRICT;
   CREATE INDEX record_in_order ON record (board, log, seq);
   CREATE TABLE recipe (
     id INTEGER PRIMARY KEY,
     name TEXT NOT NULL,
     version INTEGER NOT NULL,
     negative TEXT NOT NULL,
     board TEXT,
     body TEXT NOT NULL,
     kept_ms INTEGER NOT NULL
   ) STRICT;
   CREATE INDEX recipe_by_name ON recipe (name, version);`,
  `CREATE TABLE remark (
     id INTEGER PRIMARY KEY,
     name TEXT NOT NULL,
     version INTEGER NOT NULL,
     -- 1 to 5, or none.
     rating INTEGER CHECK (rating BETWEEN 1 AND 5),
     words TEXT NOT NULL,
     written_ms INTEGER NOT NULL
   ) STRICT;
   CREATE INDEX remark_by_recipe ON remark (name, version);`,
];

/** The archive that is used when no other is named: in the user's data folder, as the platform has it. */
export function usualArchiveFile(): string {
  return join(envPaths('treadle', { suffix: '' }).data, 'archive.sqlite');
}

/**
 * Opens an archive's file, makes it if there is none, and brings an older one up to date. What is committed is on the
 * disk when the commit returns (SQLite's documentation of 'PRAGMA synchronous').
 * @throws ArchiveError when it cannot be opened, is something else, or was made by a newer version.
 */
export async function openArchiveFile(file: string): Promise<Database> {
  const LibsqlDatabase = await loadLibsql(file);
  let database: Database | undefined;
  try {
    mkdirSync(dirname(file), { recursive: true });
    database = new LibsqlDatabase(file, { timeout: BUSY_MS });
    prepare(database, file);
    return database;
  } catch (error) {
    database?.close();
    throw error instanceof ArchiveError ? error : archiveTrouble(file, error);
  }
}

/** SQLite's and the system's words for trouble with the file, as an error that says what to do. */
export function archiveTrouble(file: string, error: unknown): ArchiveError {
  const words = error instanceof Error ? error.message : String(error);
  const code = String((error as { code?: unknown }).code ?? '');
  const say = (message: string, exitCode: 1 | 2 = 1) =>
    new ArchiveError(file, message, { cause: error, exitCode });
  if (/not a database|NOTADB/i.test(words + code)) return say('this file is no archive; name another', 2);
  if (/unable to open|CANTOPEN|EACCES|EISDIR|ENOTDIR|EEXIST/i.test(words + code))
    return say('it cannot be opened: is the folder there, and may you write in it?', 2);
  if (/readonly|READONLY|EROFS/i.test(words + code)) return say('it may only be read: may you write it?', 2);
  if (/full|ENOSPC/i.test(words + code))
    return say('the disk is full; make room and collect again, the board still has everything');
  if (/disk I\/O|IOERR/i.test(words + code))
    return say(
      'the disk does not take it: is it full or failing? The board still has everything; collect again later',
    );
  if (/locked|BUSY/i.test(words + code)) return say('another program is writing to it; try again');
  if (/malformed|CORRUPT/i.test(words + code))
    return say('the file is damaged: restore it from a backup, or name another and collect anew');
  return say(words);
}

async function loadLibsql(file: string): Promise<typeof DatabaseConstructor> {
  try {
    return (await import('libsql')).default;
  } catch (error) {
    throw new ArchiveError(
      file,
      "the package 'libsql' did not load: run 'npm ci' again with this version of Node",
      {
        cause: error,
      },
    );
  }
}

function prepare(database: Database, file: string): void {
  database.pragma(`busy_timeout = ${BUSY_MS}`);
  database.pragma('journal_mode = DELETE');
  // As FULL, and the folder is synced too when the journal is removed: only then is a commit in this mode for good.
  database.pragma('synchronous = EXTRA');
  migrate(database, file);
}

function migrate(database: Database, file: string): void {
  inTransaction(database, () => {
    const found = Number(pragma(database, 'user_version'));
    const owner = Number(pragma(database, 'application_id'));
    const tables = database.prepare('SELECT count(*) AS count FROM sqlite_schema').get() as { count: number };
    if (owner !== APPLICATION_ID && tables.count > 0)
      throw new ArchiveError(file, 'this is a database of another program; name another file', {
        exitCode: 2,
      });
    if (found > migrations.length)
      throw new ArchiveError(
        file,
        `it was made by a newer treadle (its form is ${found}, this version knows up to ${migrations.length}): ` +
          'update this one, or name another file',
      );
    for (const step of migrations.slice(found)) database.exec(step);
    database.exec(`PRAGMA application_id = ${APPLICATION_ID}`);
    database.exec(`PRAGMA user_version = ${migrations.length}`);
  });
}

function pragma(database: Database, name: string): unknown {
  const row = database.prepare(`PRAGMA ${name}`).get() as Record<string, unknown> | undefined;
  return row?.[name];
}
