import { linkSync, readFileSync, unlinkSync, writeFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { archivePath, usualArchiveFile } from '../../records/archive/archive-name.js';

const OWNER_ONLY = 0o600;
/** Long enough for a server on this computer, and no longer than a person waits. */
const LONGEST_MS = 2000;

/** A desk of this archive: either this one, or the one that was there before. */
export type DeskOfArchive =
  | { readonly url: string }
  /** Calling it lets another desk have the archive. */
  | { release(): void };

/**
 * Takes the archive for the desk at `url`, by a file beside it that only its owner can read, since the token stands in it.
 * A desk that does not answer there any more is taken over.
 */
export async function oneDeskPerArchive(archive: string | undefined, url: string): Promise<DeskOfArchive> {
  const lock = `${archivePath(archive ?? usualArchiveFile()).path}.desk.lock`;
  await mkdir(dirname(lock), { recursive: true });
  const mine = `${lock}-${process.pid}`;
  writeFileSync(mine, url, { mode: OWNER_ONLY, flag: 'w' });
  try {
    for (;;) {
      if (gaveName(mine, lock)) return { release: () => letGo(lock, url) };
      const holder = readOrNothing(lock);
      if (holder !== undefined && (await isDesk(holder))) return { url: holder };
      // Only what was found dead goes: another start may have taken its place meanwhile.
      if (holder !== undefined) letGo(lock, holder);
    }
  } finally {
    unlinkSync(mine);
  }
}

/** A second name for a file is given whole or not at all: no lock is ever seen without its address. */
function gaveName(mine: string, lock: string): boolean {
  try {
    linkSync(mine, lock);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  }
}

function letGo(lock: string, url: string): void {
  if (readOrNothing(lock) === url) unlinkSync(lock);
}

function readOrNothing(lock: string): string | undefined {
  try {
    return readFileSync(lock, 'utf8');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw error;
  }
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
