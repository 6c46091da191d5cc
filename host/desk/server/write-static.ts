import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { FileThereError, fileTrouble } from '../../files/file-access-error.js';
import { makeFolder } from '../../files/make-folder.js';
import { writeWholeFile } from '../../files/write-file.js';
import { readPageFiles } from './page-files.js';

/**
 * Writes the page as files that a browser opens from the folder, without a server.
 * @throws FileThereError for a folder with something in it, unless `over`; FileAccessError
 */
export async function writeStaticDesk(folder: string, over: boolean): Promise<void> {
  const files = await readPageFiles();
  await makeFolder(folder);
  if (!over && !(await isEmpty(folder))) throw new FileThereError(folder);
  for (const { name, bytes } of files) await writeWholeFile(join(folder, name), bytes, { over });
}

async function isEmpty(folder: string): Promise<boolean> {
  try {
    return (await readdir(folder)).length === 0;
  } catch (error) {
    throw fileTrouble('cannot look into the folder', folder, error);
  }
}
