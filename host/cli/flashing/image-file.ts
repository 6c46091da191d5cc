import { type FirmwareImage, mostImageBytes } from '../../board/flash/firmware-image.js';
import { lookOverImage } from '../../board/flash/look-over-image.js';
import { ownImagePath, readOwnImage } from '../../board/flash/own-image.js';
import { readWholeFile } from '../../files/read-file.js';
import { namingOption } from '../naming-option.js';

/** The image of that name, looked over whole; without a name the one that came with this package. @throws ImageError */
export async function readImage(given: string | undefined): Promise<FirmwareImage> {
  const bytes = await (given === undefined
    ? readOwnImage()
    : namingOption('file', () => readWholeFile(given, mostImageBytes)));
  return lookOverImage(bytes, given ?? ownImagePath);
}
