import sharp from 'sharp';
import type { GreyPicture } from '../../darkroom/picture/render.js';
import type { Backdrop } from './figure.js';

/** Enough for a page at 150 dots an inch, and for a photocopier. */
const LONGEST_SIDE_PIXELS = 1000;
/** Black becomes this grey and white stays white, so that lines and figures stand out. */
const PALE = { scale: 0.45, offset: 140 } as const;

/** A picture of the print, pale, to draw a printing map over. */
export async function backdropOf(picture: GreyPicture): Promise<Backdrop> {
  const png = await sharp(picture.pixels, {
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
