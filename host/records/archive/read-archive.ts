import { ArchiveError } from '../archive-error.js';
import type { ArchiveReader } from './archive.js';
import { archivePath, usualArchiveFile } from './archive-name.js';
import { connectToRead, loadLibsql } from './connection.js';
import { FileReader } from './file-reader.js';

/** Opens an archive to read it, or the usual one; the file is never changed. @throws ArchiveError */
export async function readArchive(name = usualArchiveFile()): Promise<ArchiveReader> {
  const { path, there } = archivePath(name);
  if (there === undefined)
    throw new ArchiveError(
      path,
      "there is no such archive yet: 'treadle collect' makes it from a board's log, 'treadle paper add' from scans",
      { exitCode: 2 },
    );
  return new FileReader(path, connectToRead(await loadLibsql(path), path));
}

/** Whether there is such an archive, or the usual one. @throws ArchiveError for what can be none */
export function isArchiveThere(name = usualArchiveFile()): boolean {
  return archivePath(name).there !== undefined;
}
