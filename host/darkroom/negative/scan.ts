import type { Sharp } from 'sharp';
import { checkPlainFile } from '../../files/read-file.js';
import { pictureLibrary } from '../../picture-library.js';
import { checkKind, checkNumbers } from './kind-of-file.js';
import { commonScanReading, type Negative, negativeBounds, type ScanReading, scanTable } from './negative.js';
import { ScanError } from './scan-error.js';

/**
 * Reads a picture file (TIFF, PNG or JPEG, 8 or 16 bits; colour is turned to grey) as a negative.
 * @param longestSidePixels the picture is made smaller to this before printing; left out, every pixel is printed.
 * @param name what the file is called in words for a person, where its path is none of theirs.
 * @throws ScanError for a file that is no picture, or larger than the bounds; FileAccessError for one that cannot be
 * read; PackageUnavailableError where pictures cannot be read at all.
 */
export async function negativeFromScan(
  path: string,
  reading: ScanReading = commonScanReading,
  longestSidePixels?: number,
  name: string = path,
): Promise<Negative> {
  await checkPlainFile(path, negativeBounds.fileBytes);
  const sharp = await pictureLibrary();
  await checkKind(path, name);
  const picture = sharp(path, { limitInputPixels: negativeBounds.pixels }).autoOrient();
  if (longestSidePixels !== undefined)
    picture.resize({
      width: longestSidePixels,
      height: longestSidePixels,
      fit: 'inside',
      withoutEnlargement: true,
    });
  const { data, info } = await greyOf(picture, name);
  const samples = new Uint16Array(data.buffer, data.byteOffset, data.byteLength / 2);
  if (samples.every((code) => code === samples[0]))
    throw new ScanError(`${name} shows no negative: all of it is one tone`);
  return { width: info.width, height: info.height, samples, logTransmittance: scanTable(reading) };
}

async function greyOf(picture: Sharp, name: string) {
  try {
    checkNumbers(await picture.metadata(), name);
    return await picture
      .toColourspace('grey16')
      .extractChannel(0)
      .raw({ depth: 'ushort' })
      .toBuffer({ resolveWithObject: true });
  } catch (error) {
    if (error instanceof ScanError) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new ScanError(
      `cannot read ${name} as a picture (${reason}); give a PNG or TIFF scan of at most ${negativeBounds.pixels / 1e6} megapixels`,
    );
  }
}
