import { ArchiveError } from '../archive-error.js';

interface Words {
  /** What the database or the system says. */
  readonly sign: RegExp;
  readonly say: string;
  readonly exitCode?: 1 | 2;
}

const OTHERWISE = 'restore it from a backup, or name another and collect anew; the board keeps what it has';

const words: readonly Words[] = [
  { sign: /not a database|NOTADB/i, say: 'this file is no archive; name another', exitCode: 2 },
  {
    sign: /malformed|CORRUPT|no such (table|column)|has no column named|already exists|constraint failed/i,
    say: `the file is damaged: ${OTHERWISE}`,
  },
  {
    sign: /disk is full|ENOSPC|SQLITE_FULL/i,
    say: 'the disk is full; make room, then try again: the board still has everything that was not collected',
  },
  { sign: /readonly|EROFS/i, say: 'it may only be read: may you write it?', exitCode: 2 },
  {
    sign: /disk I\/O|IOERR/i,
    say: 'the disk does not take it: is it full or failing? The board still has everything; collect again later',
  },
  {
    sign: /unable to open|CANTOPEN|EACCES|EISDIR|ENOTDIR|EEXIST/i,
    say: 'it cannot be opened: is the folder there, and may you write in it?',
    exitCode: 2,
  },
  { sign: /locked|BUSY/i, say: 'another program is writing to it; try again' },
  // What we ask is always the same, so a mistake in it is in what the file says of itself: its triggers, for instance.
  {
    sign: /SQLITE_ERROR|no such function|syntax error|unrecognized token|wrong number of arguments/i,
    say: `the file is damaged: ${OTHERWISE}`,
  },
];

/** The database's and the system's words for trouble with the file, as an error that says what to do. */
export function archiveTrouble(file: string, error: unknown): ArchiveError {
  if (error instanceof ArchiveError) return error;
  const message = error instanceof Error ? error.message : String(error);
  const code = String((error as { code?: unknown }).code ?? '');
  const known = words.find(({ sign }) => sign.test(`${message} ${code}`));
  return new ArchiveError(file, known?.say ?? message, { cause: error, exitCode: known?.exitCode ?? 1 });
}

/** What is wrong with a file that opens, but does not hold what was put into it. */
export function damaged(file: string, what: string): ArchiveError {
  return new ArchiveError(file, `the file is damaged (${what}): ${OTHERWISE}`);
}
