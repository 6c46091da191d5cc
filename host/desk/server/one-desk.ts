import { randomBytes } from 'node:crypto';
import { linkSync, lstatSync, readFileSync, unlinkSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { InputError } from '../../errors.js';
import { fileTrouble } from '../../files/file-access-error.js';
import { makeFolder } from '../../files/make-folder.js';
import { archivePath, usualArchiveFile } from '../../records/archive/archive-name.js';

const OWNER_ONLY = 0o600;
/** An address with its token is shorter. */
const MOST_LOCK_BYTES = 200;
/** Long enough for a server on this computer, and no longer than a person waits. */
const LONGEST_MS = 2000;

/** A desk of this archive: either this one, or the one that was there before. */
export type DeskOfArchive =
  | { readonly url: string }
  /** Calling it lets another desk have the archive. */
  | { release(): void };

/** What lies where the lock belongs is none of this person's desks. */
class LockError extends InputError {
  override readonly name = 'LockError';

  constructor(lock: string) {
    super(
      `${lock} was not made by a desk of yours: where nobody else has a desk open on this archive, take that away`,
    );
  }
}

/**
 * Takes the archive for the desk at `url`, by a file beside it that only its owner can read, since the token stands in it.
 * A desk that does not answer there any more is taken over.
 * @throws LockError, FileAccessError
 */
export async function oneDeskPerArchive(archive: string | undefined, url: string): Promise<DeskOfArchive> {
  const lock = `${archivePath(archive ?? usualArchiveFile()).path}.desk.lock`;
  await makeFolder(dirname(lock));
  const mine = `${lock}-${randomBytes(6).toString('hex')}`;
  try {
    writeFileSync(mine, url, { mode: OWNER_ONLY, flag: 'wx' });
    try {
      return await takeLock(lock, mine, url);
    } finally {
      unlinkSync(mine);
    }
  } catch (error) {
    throw error instanceof LockError ? error : fileTrouble('cannot open a desk by', lock, error);
  }
}

async function takeLock(lock: string, mine: string, url: string): Promise<DeskOfArchive> {
  for (;;) {
    if (gaveName(mine, lock)) return { release: () => letGo(lock, url) };
    const holder = holderIn(lock);
    if (holder !== undefined && (await isDesk(holder))) return { url: holder };
    // Only what was found dead goes: another start may have taken its place meanwhile.
    if (holder !== undefined) letGo(lock, holder);
  }
}

/** A second name for a file is given whole or not at all: no lock is ever seen without its address. */
function gaveName(mine: string, lock: string): boolean {
  try {
    linkSync(mine, lock);
    return true;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return false;
    if (!CANNOT_LINK.has(code ?? '')) throw error;
    return wroteNew(lock, readFileSync(mine));
  }
}

const CANNOT_LINK = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EINVAL', 'EMLINK']);

/** A memory card's file system has no second names for a file. */
function wroteNew(lock: string, url: Uint8Array): boolean {
  try {
    writeFileSync(lock, url, { mode: OWNER_ONLY, flag: 'wx' });
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

function letGo(lock: string, url: string): void {
  if (holderIn(lock) === url) unlinkSync(lock);
}

/** Links are not followed, pipes not waited for, and what another person wrote is not believed. */
function holderIn(lock: string): string | undefined {
  const found = lstatSync(lock, { throwIfNoEntry: false });
  if (found === undefined) return undefined;
  const isOwn = process.getuid === undefined || found.uid === process.getuid();
  if (!found.isFile() || !isOwn || found.size > MOST_LOCK_BYTES) throw new LockError(lock);
  return readFileSync(lock, 'utf8');
}

/** Whether a desk answers there to its own token; nothing is asked of any other computer, whatever stands in the file. */
async function isDesk(url: string): Promise<boolean> {
  const [, address, token] = /^(http:\/\/127\.0\.0\.1:\d{1,5})\/#([\w-]{43})$/.exec(url) ?? [];
  if (address === undefined || token === undefined) return false;
  try {
    const signal = AbortSignal.timeout(LONGEST_MS);
    const answer = await fetch(`${address}/api/hello`, { headers: { 'treadle-token': token }, signal });
    return answer.ok;
  } catch {
    return false;
  }
}
