import { lightOfSrgb, srgbOfLight } from '../../../darkroom/negative/negative.js';
import { NotDoneError } from '../server-link.js';
import type { ScanPixels } from './print-maker.js';

/** As the server gives it. */
const MOST_SIDE_PIXELS = 3600;
const TOP_CODE = 0xffff;
/** Of red, green and blue in what the eye takes for brightness: IEC 61966-2-1. */
const BRIGHTNESS = [0.2126, 0.7152, 0.0722] as const;

/** A scan as the browser itself reads it, in 8 bits: for a page from a folder. @throws NotDoneError */
export async function readScanInBrowser(file: File): Promise<ScanPixels> {
  const bitmap = await createImageBitmap(file).catch(() => {
    throw new NotDoneError(
      `this browser cannot read ${file.name}: without a server a scan may be a PNG or JPEG; 'treadle desk' reads TIFF as well`,
    );
  });
  const scale = Math.min(1, MOST_SIDE_PIXELS / Math.max(bitmap.width, bitmap.height));
  const width = Math.max(1, Math.round(bitmap.width * scale));
  const height = Math.max(1, Math.round(bitmap.height * scale));
  const context = new OffscreenCanvas(width, height).getContext('2d')!;
  context.drawImage(bitmap, 0, 0, width, height);
  bitmap.close();
  return { width, height, samples: greyOf(context.getImageData(0, 0, width, height).data) };
}

function greyOf(colours: Uint8ClampedArray): Uint16Array {
  const lights = BRIGHTNESS.map((share) =>
    Float64Array.from({ length: 256 }, (_, code) => share * lightOfSrgb(code / 255)),
  );
  const [red, green, blue] = lights as [Float64Array, Float64Array, Float64Array];
  return Uint16Array.from({ length: colours.length / 4 }, (_, at) => {
    const light = red[colours[4 * at]!]! + green[colours[4 * at + 1]!]! + blue[colours[4 * at + 2]!]!;
    return Math.round(TOP_CODE * srgbOfLight(light));
  });
}
