import { mkdir } from 'node:fs/promises';
import { fileTrouble } from './file-access-error.js';

/** Makes a folder and those around it, where they are not there yet. @throws FileAccessError */
export async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path, { recursive: true });
  } catch (error) {
    throw fileTrouble('cannot make the folder', path, error);
  }
}
