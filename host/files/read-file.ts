import { constants, type Stats } from 'node:fs';
import { open, stat } from 'node:fs/promises';
import { FileAccessError, fileTrouble } from './file-access-error.js';

/** The name that stands for standard input. */
export const STANDARD_INPUT = '-';

/**
 * Reads a file, or standard input for '-'. No more than `mostBytes` are ever in memory: a larger file is refused
 * before it is read, and one that grows meanwhile as soon as it does.
 * @throws FileAccessError for what is missing, too large, or no plain file: a pipe would make us wait for ever,
 * and a device may never end.
 */
export async function readWholeFile(path: string, mostBytes: number): Promise<Buffer> {
  if (path === STANDARD_INPUT) return gather(process.stdin, 'standard input', mostBytes);
  await checkPlainFile(path, mostBytes);
  try {
    // Should a pipe have taken the file's place since it was looked at, this does not wait for its other end.
    const file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
    return await gather(file.createReadStream({ end: mostBytes }), path, mostBytes);
  } catch (error) {
    throw fileTrouble('cannot read', path, error);
  }
}

/**
 * For readers that want the name and not the bytes: it names a plain file of at most `mostBytes`.
 * @throws FileAccessError
 */
export async function checkPlainFile(path: string, mostBytes: number): Promise<void> {
  let found: Stats;
  try {
    found = await stat(path);
  } catch (error) {
    throw fileTrouble('cannot read', path, error);
  }
  if (found.isDirectory()) throw new FileAccessError(path, `${path} is a folder; name a file`);
  if (!found.isFile()) throw new FileAccessError(path, `${path} is a pipe or a device; name a plain file`);
  if (found.size > mostBytes) throw tooLarge(path, mostBytes);
}

async function gather(
  chunks: AsyncIterable<string | Buffer>,
  path: string,
  mostBytes: number,
): Promise<Buffer> {
  const pieces: Buffer[] = [];
  let bytes = 0;
  for await (const chunk of chunks) {
    const piece = Buffer.from(chunk);
    bytes += piece.length;
    if (bytes > mostBytes) throw tooLarge(path, mostBytes);
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}

function tooLarge(path: string, mostBytes: number): FileAccessError {
  return new FileAccessError(path, `${path} is larger than ${mostBytes} bytes; is it the right file?`);
}
