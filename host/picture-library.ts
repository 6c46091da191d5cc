import { PackageUnavailableError } from './errors.js';

/** Loaded only when a picture is read or written, so that all else works where its native part does not load. */
export async function pictureLibrary() {
  try {
    return (await import('sharp')).default;
  } catch (error) {
    throw new PackageUnavailableError('sharp', 'pictures', error);
  }
}
