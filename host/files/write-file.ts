import { createHash, randomBytes } from 'node:crypto';
import type { Stats } from 'node:fs';
import * as disk from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { FileAccessError, FileChangedError, FileThereError, fileTrouble } from './file-access-error.js';
import { takeLock } from './process-lock.js';

/** What is asked of the file system, so that tests can let any step of it fail. */
export type Disk = Pick<
  typeof disk,
  'access' | 'open' | 'stat' | 'readFile' | 'realpath' | 'rename' | 'link' | 'unlink'
>;

export interface Writing {
  /** May the new file take the place of one that is there? Left out, no. */
  readonly over?: boolean;
  /** With `over`: the bytes that were read, in whose place alone the new ones may come. */
  readonly was?: Uint8Array;
  readonly disk?: Disk;
}

/**
 * Writes a file so that its name always stands for a whole one, the old or the new, also when the disk is full or
 * the power fails: it is written beside under a name of its own, synced, put in its place in one step, and the
 * folder is synced. Where that fails, what was written is taken away again.
 * @throws FileThereError without `over` where something is there; FileChangedError where there is anything else than
 * `was`, or another program is writing just that; FileAccessError for everything else.
 */
export async function writeWholeFile(
  path: string,
  content: string | Uint8Array,
  { over = false, was, disk: on = disk }: Writing = {},
): Promise<void> {
  const old = await checkMayWrite(path, { over, disk: on });
  try {
    // What a link points to is replaced, not the link.
    const target = old === undefined ? path : await on.realpath(path);
    const beside = join(dirname(target), `.treadle-${randomBytes(6).toString('hex')}.part`);
    await writeSynced(on, beside, content, old?.mode);
    const put =
      was !== undefined
        ? replaceKnown(on, { path, beside, target, was })
        : over
          ? on.rename(beside, target)
          : giveName(on, beside, target);
    await put.catch(litterFree(on, beside));
    await syncFolder(on, dirname(target));
  } catch (error) {
    throw fileTrouble('cannot write', path, error);
  }
}

/**
 * Whether a file could be written there at all, for those who have much to work out before.
 * @returns what is there and would be replaced.
 * @throws as `writeWholeFile`
 */
export async function checkMayWrite(
  path: string,
  { over = false, disk: on = disk }: Writing = {},
): Promise<Stats | undefined> {
  const found = await statOf(on, path);
  if (found?.isDirectory())
    throw new FileAccessError(path, `cannot write ${path}: that is a folder; name a file`);
  if (found !== undefined && !over) throw new FileThereError(path);
  if (found !== undefined && !found.isFile())
    throw new FileAccessError(path, `cannot write ${path}: that is a pipe or a device; name a plain file`);
  if (found !== undefined) await checkIsNotProtected(on, path);
  const folder = dirname(path);
  if (found === undefined && (await statOf(on, folder)) === undefined)
    throw new FileAccessError(
      path,
      `cannot write ${path}: there is no folder ${folder}; make it, or name another`,
    );
  return found;
}

/** Putting another in its place asks for no leave of the file itself: who took that leave away means it to stay. */
async function checkIsNotProtected(on: Disk, path: string): Promise<void> {
  try {
    await on.access(path, disk.constants.W_OK);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code !== 'EACCES' && code !== 'EPERM') throw fileTrouble('cannot write', path, error);
    throw new FileAccessError(
      path,
      `cannot write ${path}: it may only be read; name another file, or allow it to be written`,
    );
  }
}

async function statOf(on: Disk, path: string): Promise<Stats | undefined> {
  try {
    return await on.stat(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return undefined;
    throw fileTrouble('cannot write', path, error);
  }
}

const READ_AND_WRITE = 0o666;

async function writeSynced(
  on: Disk,
  path: string,
  content: string | Uint8Array,
  mode: number | undefined,
): Promise<void> {
  const file = await on.open(path, 'wx', READ_AND_WRITE);
  try {
    try {
      await file.writeFile(content);
      if (mode !== undefined) await file.chmod(mode & 0o777);
      await file.sync();
    } finally {
      await file.close();
    }
  } catch (error) {
    await litterFree(on, path)(error);
  }
}

/** Gives the file its name unless that is taken, however late it was taken. */
async function giveName(on: Disk, beside: string, target: string): Promise<void> {
  try {
    await on.link(beside, target);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') throw new FileThereError(target);
    if (!CANNOT_LINK.has(code ?? '')) throw error;
    // A memory card's file system has no second names for a file; that the name is free was seen a moment ago.
    return on.rename(beside, target);
  }
  await on.unlink(beside);
}

const CANNOT_LINK = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EINVAL', 'EMLINK']);

interface Replacing {
  /** As it was named, for words. */
  readonly path: string;
  readonly beside: string;
  readonly target: string;
  readonly was: Uint8Array;
}

/**
 * Looking and replacing are two steps: of two programs that both looked first, the second would replace what the first
 * has just written. So one at a time, by a lock of its own; an editor knows none, and is seen unless it is that quick.
 */
async function replaceKnown(on: Disk, { path, beside, target, was }: Replacing): Promise<void> {
  const unlock = lockOf(target);
  if (unlock === undefined) throw new FileChangedError(path);
  try {
    if (Buffer.compare(await on.readFile(target), was) !== 0) throw new FileChangedError(path);
    await on.rename(beside, target);
  } finally {
    unlock();
  }
}

/** Undefined where another program has it. A memory card's file system can keep none: there it goes without. */
function lockOf(target: string): (() => void) | undefined {
  try {
    // Of one length for every name, so that it is never too long.
    const name = createHash('sha256').update(basename(target)).digest('hex').slice(0, 12);
    const taken = takeLock(join(dirname(target), `.treadle-${name}.lock`));
    return typeof taken === 'function' ? taken : undefined;
  } catch (error) {
    if (CANNOT_LINK.has((error as NodeJS.ErrnoException).code ?? '')) return () => {};
    throw error;
  }
}

/** Takes away what was begun, then throws what went wrong. */
function litterFree(on: Disk, beside: string): (error: unknown) => Promise<never> {
  return async (error) => {
    await on.unlink(beside).catch(() => {});
    throw error;
  };
}

/** Without it, a power cut may undo the renaming. What cannot sync its folders (some networks, one system) is let be. */
async function syncFolder(on: Disk, folder: string): Promise<void> {
  try {
    const opened = await on.open(folder, 'r');
    await opened.sync().finally(() => opened.close());
  } catch (error) {
    if (!CANNOT_SYNC.has((error as NodeJS.ErrnoException).code ?? '')) throw error;
  }
}

const CANNOT_SYNC = new Set(['EINVAL', 'ENOTSUP', 'EACCES', 'EPERM', 'EISDIR']);
