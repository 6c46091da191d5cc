import { fileURLToPath } from 'node:url';
import { FileAccessError } from '../../files/file-access-error.js';
import { readWholeFile } from '../../files/read-file.js';
import { mostImageBytes } from './firmware-image.js';
import { ImageError } from './flash-errors.js';

/** The board's image that came with this copy of the library; it lies as deep below this file as core.wasm. */
export const ownImagePath: string = fileURLToPath(
  new URL(
    import.meta.url.endsWith('.ts') ? '../../../dist/image/treadle.uf2' : '../../image/treadle.uf2',
    import.meta.url,
  ),
);

/** @throws ImageError where there is none */
export async function readOwnImage(): Promise<Uint8Array> {
  try {
    return await readWholeFile(ownImagePath, mostImageBytes);
  } catch (error) {
    if (!(error instanceof FileAccessError)) throw error;
    throw new ImageError(
      `this copy of treadle came without the board's image (${ownImagePath}): name a file, or build it with 'npm run image'`,
    );
  }
}
