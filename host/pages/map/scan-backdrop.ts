import { pictureLibrary } from '../../picture-library.js';
import type { Backdrop } from './figure.js';

/** Enough for a page at 150 dots an inch, and for a photocopier. */
const LONGEST_SIDE_PIXELS = 1000;
/** Black becomes this grey and white stays white, so that lines and figures stand out. */
const PALE = { scale: 0.45, offset: 140 } as const;

/** A picture of a print: 8 bits of grey a pixel, in rows from the top left. */
interface Picture {
  readonly pixels: Uint8Array;
  readonly width: number;
  readonly height: number;
}

/** A picture of the print, pale, to draw a printing map over. @throws PackageUnavailableError */
export async function backdropOf(picture: Picture): Promise<Backdrop> {
  const png = await (await pictureLibrary())(picture.pixels, {
    raw: { width: picture.width, height: picture.height, channels: 1 },
  })
    .resize({
      width: LONGEST_SIDE_PIXELS,
      height: LONGEST_SIDE_PIXELS,
      fit: 'inside',
      withoutEnlargement: true,
    })
    .linear(PALE.scale, PALE.offset)
    .toColourspace('b-w')
    .png()
    .toBuffer();
  return { pngBase64: png.toString('base64'), aspect: picture.width / picture.height };
}
