import { UnreadableText } from '../../recipe/text/unreadable-text.js';

/** Lightness (CIE L*) of a print's zones in equal steps: zone V is 18 % grey and zone X paper white, common practice. */
const ZONE_V_LIGHTNESS = 49.5;
const WHITE_LIGHTNESS = 96;
const MOST_DENSITY = 1.9;

/** The density above paper white of a tone: `0.6`, or `zone 6`. */
export function readTone(text: string): number {
  const zone = /^zone ?([1-9])$/i.exec(text.trim());
  if (zone !== null) return densityOfZone(Number(zone[1]));
  const density = /^\d(\.\d{1,3})?$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (density >= 0.02 && density <= MOST_DENSITY) return density;
  throw new UnreadableText(
    `'${text}' is not a tone; write a density above paper white from 0.02 to ${MOST_DENSITY}, such as 0.6, or a zone, such as zone 6`,
  );
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
