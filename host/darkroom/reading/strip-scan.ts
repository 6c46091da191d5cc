import { checkPlainFile } from '../../files/read-file.js';
import { pictureLibrary } from '../../picture-library.js';
import { checkKind, checkNumbers } from '../negative/kind-of-file.js';
import { lightOfSrgb, negativeBounds } from '../negative/negative.js';
import { ScanError } from '../negative/scan-error.js';
import { greyToneCurve } from './grey-profile.js';
import { isColourProfile } from './profile-tags.js';

/** A picture of a strip as light: grey, shares of the scanner's full, in rows from the top left. */
export interface StripScan {
  readonly width: number;
  readonly height: number;
  readonly light: Float32Array<ArrayBuffer>;
  /** Pixels of the file to one of these. */
  readonly filePixels: number;
  /** By what the file's numbers were made light; a damaged profile is as none. */
  readonly colour: 'embedded profile' | 'sRGB';
  /** What made it, by the kind of file: phones write JPEG, and a scan that is to be measured is TIFF or PNG. */
  readonly device: 'flatbed' | 'phone';
}

/** Enough for edges and averages, and quick. */
const LONGEST_SIDE_PIXELS = 1400;
const CODES = 65_535;

/**
 * Reads the picture of a strip. What sharp makes of an embedded profile of colours is sRGB, and so is a file without one; a
 * grey file's profile is read here.
 * @param name what the file is called in words for a person, where its path is none of theirs.
 * @throws ScanError, FileAccessError, PackageUnavailableError as `negativeFromScan`
 */
export async function readStripScan(path: string, name: string = path): Promise<StripScan> {
  await checkPlainFile(path, negativeBounds.fileBytes);
  const sharp = await pictureLibrary();
  await checkKind(path, name);
  try {
    const file = await sharp(path, { limitInputPixels: negativeBounds.pixels }).metadata();
    checkNumbers(file, name);
    const greyCurve = isGrey(file.space) && file.icc !== undefined ? greyToneCurve(file.icc) : undefined;
    const { data, info } = await sharp(path, {
      limitInputPixels: negativeBounds.pixels,
      ignoreIcc: isGrey(file.space),
    })
      .autoOrient()
      .resize({
        width: LONGEST_SIDE_PIXELS,
        height: LONGEST_SIDE_PIXELS,
        fit: 'inside',
        kernel: 'linear',
        withoutEnlargement: true,
      })
      .toColourspace('grey16')
      .extractChannel(0)
      .raw({ depth: 'ushort' })
      .toBuffer({ resolveWithObject: true });
    const lightOf = greyCurve ?? lightOfSrgb;
    const codes = new Uint16Array(data.buffer, data.byteOffset, data.byteLength / 2);
    return {
      width: info.width,
      height: info.height,
      light: Float32Array.from(codes, (code) => lightOf(code / CODES)),
      filePixels: Math.max(file.width, file.height) / Math.max(info.width, info.height),
      colour: greyCurve !== undefined || hasColourProfile(file) ? 'embedded profile' : 'sRGB',
      device: file.format === 'jpeg' ? 'phone' : 'flatbed',
    };
  } catch (error) {
    if (error instanceof ScanError) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new ScanError(
      `cannot read ${name} as a picture (${reason}); give a TIFF, PNG or JPEG of at most ${negativeBounds.pixels / 1e6} megapixels`,
    );
  }
}

function isGrey(space: string | undefined): boolean {
  return space === 'b-w' || space === 'grey16';
}

function hasColourProfile({
  space,
  icc,
}: {
  space?: string | undefined;
  icc?: Uint8Array | undefined;
}): boolean {
  return icc !== undefined && !isGrey(space) && isColourProfile(icc);
}
