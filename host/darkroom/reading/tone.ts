import { UnreadableText } from '../../recipe/text/unreadable-text.js';

/** Lightness (CIE L*) of a print's zones in equal steps: zone V is 18 % grey and zone X paper white, common practice. */
const ZONE_V_LIGHTNESS = 49.5;
const WHITE_LIGHTNESS = 96;
const LEAST_DENSITY = 0.02;
const MOST_DENSITY = 1.9;

/** Where in the scan a grey lies whose tone is meant, in pixels from left and top. */
export interface TonePlace {
  readonly x: number;
  readonly y: number;
}

/** A density above paper white: `0.6`, or `zone 6`; or a grey in the scan, `at 1840,220`, in pixels of the file. */
export function readTone(text: string): number | TonePlace {
  const place = /^at (\d{1,6}), ?(\d{1,6})$/i.exec(text.trim());
  if (place !== null) return { x: Number(place[1]), y: Number(place[2]) };
  const zone = /^zone ?([1-9])$/i.exec(text.trim());
  if (zone !== null) return densityOfZone(Number(zone[1]));
  const density = /^\d(\.\d{1,3})?$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (isToneDensity(density)) return density;
  throw new UnreadableText(
    `'${text}' is not a tone; write a density above paper white from ${LEAST_DENSITY} to ${MOST_DENSITY}, such as 0.6, a zone, such as zone 6, or where in the scan a patch of a grey scale has it, in pixels from left and top, such as at 1840,220`,
  );
}

/** Whether a strip can tell the exposure for a density above paper white. */
export function isToneDensity(density: number): boolean {
  return density >= LEAST_DENSITY && density <= MOST_DENSITY;
}

/** A place that was given in pixels of the file, in those that were read. */
export function inScan(
  tone: number | TonePlace,
  { filePixels }: { readonly filePixels: number },
): number | TonePlace {
  return typeof tone === 'number' ? tone : { x: tone.x / filePixels, y: tone.y / filePixels };
}

function densityOfZone(zone: number): number {
  const lightness = ZONE_V_LIGHTNESS + ((WHITE_LIGHTNESS - ZONE_V_LIGHTNESS) / 5) * (zone - 5);
  return Math.log10(luminance(WHITE_LIGHTNESS) / luminance(lightness));
}

/** CIE 1976 L*, back to luminance as a share of white (CIE 15, from memory). */
function luminance(lightness: number): number {
  const root = (lightness + 16) / 116;
  return root > 6 / 29 ? root ** 3 : (lightness * 27) / 24_389;
}
