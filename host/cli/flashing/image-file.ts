import { type FirmwareImage, mostImageBytes, readFirmwareImage } from '../../board/flash/firmware-image.js';
import { ImageError, OlderImageError } from '../../board/flash/flash-errors.js';
import { FileAccessError } from '../../files/file-access-error.js';
import { readWholeFile } from '../../files/read-file.js';
import { namingOption } from '../naming-option.js';
import { ownImagePath } from '../own-image.js';

/** The image of that name, looked over whole; without a name the one that came with this package. @throws ImageError */
export async function readImage(given: string | undefined): Promise<FirmwareImage> {
  const bytes = await (given === undefined ? readOwn() : namingOption('file', () => read(given)));
  const name = given ?? ownImagePath;
  try {
    return readFirmwareImage(bytes);
  } catch (error) {
    if (error instanceof ImageError) throw new ImageError(`${name} is not written: ${error.message}`);
    throw error;
  }
}

const read = (path: string) => readWholeFile(path, mostImageBytes);

async function readOwn(): Promise<Uint8Array> {
  try {
    return await read(ownImagePath);
  } catch (error) {
    if (!(error instanceof FileAccessError)) throw error;
    throw new ImageError(
      `this copy of treadle came without the board's image (${ownImagePath}): name a file, or build it with 'npm run image'`,
    );
  }
}

/** @throws OlderImageError for one that would take a board of `version` back */
export function refuseOlder(image: FirmwareImage, version: string, whose: string): void {
  if (image.version.localeCompare(version, 'en', { numeric: true, sensitivity: 'base' }) >= 0) return;
  throw new OlderImageError(
    `the image is version ${image.version}, and ${whose} ${version}: nothing was written. Add --older to go back to it; ` +
      'what a newer version wrote into the flash may then be unreadable until you come back',
  );
}
