import { type FirmwareImage, readFirmwareImage } from './firmware-image.js';
import { ImageError, OlderImageError } from './flash-errors.js';

/** The image, looked over whole. @throws ImageError that names it */
export function lookOverImage(bytes: Uint8Array, name: string): FirmwareImage {
  try {
    return readFirmwareImage(bytes);
  } catch (error) {
    if (error instanceof ImageError) throw new ImageError(`${name} is not written: ${error.message}`);
    throw error;
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
