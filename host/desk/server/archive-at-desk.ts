import type { ArchiveReader } from '../../records/archive/archive.js';
import { archivePath, usualArchiveFile } from '../../records/archive/archive-name.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { readArchive } from '../../records/archive/read-archive.js';

/**
 * Reads the archive of the desk, or the usual one, and lets go of it: other programs may write to it. One that nobody has
 * made yet is empty, and stays unmade.
 * @throws ArchiveError
 */
export async function readingArchive<Result>(
  name: string | undefined,
  work: (archive: ArchiveReader) => Promise<Result>,
): Promise<Result> {
  const file = name ?? usualArchiveFile();
  const { there } = archivePath(file);
  await using archive = there === undefined ? await openArchive(file) : await readArchive(file);
  return await work(archive);
}
