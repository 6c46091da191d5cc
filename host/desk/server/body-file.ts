import { createWriteStream } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import type { IncomingMessage } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileTrouble } from '../../files/file-access-error.js';

/** A body that was written to the disk as it came. */
export interface BodyFile {
  readonly path: string;
  /** Takes it away again. */
  readonly forget: () => Promise<void>;
}

const OWNER_ONLY = 0o600;

/**
 * Undefined where it is more than allowed, as `bodyOf`. No more of it is in memory than what comes at once.
 * @throws FileAccessError where the disk is full or takes no file
 */
export async function bodyFileOf(request: IncomingMessage, mostBytes: number): Promise<BodyFile | undefined> {
  if (Number(request.headers['content-length'] ?? 0) > mostBytes) return undefined;
  const folder = await folderOfOwn();
  const forget = () => rm(folder, { recursive: true, force: true });
  const path = join(folder, 'body');
  try {
    const pieces = request.iterator({ destroyOnReturn: false });
    await pipeline(atMost(pieces, mostBytes), createWriteStream(path, { mode: OWNER_ONLY, flags: 'wx' }));
    return { path, forget };
  } catch (error) {
    await forget();
    if (error instanceof TooMuch) return undefined;
    throw fileTrouble('cannot write what was brought to', path, error);
  }
}

async function folderOfOwn(): Promise<string> {
  try {
    return await mkdtemp(join(tmpdir(), 'treadle-desk-'));
  } catch (error) {
    throw fileTrouble('cannot write what was brought to', tmpdir(), error);
  }
}

class TooMuch extends Error {}

async function* atMost(pieces: AsyncIterable<Buffer>, mostBytes: number): AsyncGenerator<Buffer> {
  let bytes = 0;
  for await (const piece of pieces) {
    bytes += piece.length;
    if (bytes > mostBytes) throw new TooMuch();
    yield piece;
  }
}
