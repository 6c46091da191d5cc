import { pictureLibrary } from '../../picture-library.js';
import { formatStops } from '../../recipe/text/stop-text.js';
import { type SurveyFigures, sheetPlaces } from './survey-light.js';

const LONGER_SIDE = 1200;
const BAND_STOPS120 = 10;
/** A line of the map is thicker each quarter of a stop. */
const BANDS_OF_THICK = 3;
const LETTERS = 40;
const MARGIN = 24;
const PAPER = 255;
const [LIGHTEST, DARKEST, SHADE_OF_BAND, LINE] = [246, 120, 14, 30];
const INK = '#111';

/**
 * A map of the sheet in lines of a twelfth of a stop, darker where less light falls, with what the corners and the middles of the
 * edges have, as the bytes of a PNG file. @throws PackageUnavailableError
 */
export async function evennessPng(figures: SurveyFigures): Promise<Uint8Array> {
  const sharp = await pictureLibrary();
  const { aspect } = figures;
  const width = Math.round(aspect >= 1 ? LONGER_SIDE : LONGER_SIDE * aspect);
  const height = Math.round(aspect >= 1 ? LONGER_SIDE / aspect : LONGER_SIDE);
  const shades = mapOf(figures, width, height);
  return sharp(shades, { raw: { width, height, channels: 1 } })
    .extend({
      top: MARGIN,
      left: MARGIN,
      right: MARGIN,
      bottom: MARGIN + 2 * LETTERS,
      background: { r: PAPER, g: PAPER, b: PAPER },
    })
    .composite([{ input: Buffer.from(words(figures, width, height)), left: 0, top: 0 }])
    .toColourspace('b-w')
    .png()
    .toBuffer();
}

function mapOf({ field }: SurveyFigures, width: number, height: number): Uint8Array {
  const at = (x: number, y: number) => field.stopsAt((2 * x) / width - 1, (2 * y) / height - 1);
  const rows = stopsOfRows(at, width, height);
  const brightest = rows.reduce((most, each) => Math.max(most, each), 0);
  const shades = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const here = rows[y * (width + 1) + x]!;
      const steepness = Math.hypot(
        rows[y * (width + 1) + x + 1]! - here,
        rows[(y + 1) * (width + 1) + x]! - here,
      );
      shades[y * width + x] = shadeOf(here, steepness, brightest);
    }
  return shades;
}

/** One more each way than pixels, for the steepness of the last. */
function stopsOfRows(at: (x: number, y: number) => number, width: number, height: number): Float64Array {
  const stops = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y <= height; y++) for (let x = 0; x <= width; x++) stops[y * (width + 1) + x] = at(x, y);
  return stops;
}

function shadeOf(stops: number, steepness: number, brightest: number): number {
  const bands = (120 * stops) / BAND_STOPS120;
  const line = Math.round(bands);
  const shade = Math.max(
    DARKEST,
    LIGHTEST - SHADE_OF_BAND * Math.floor((120 * brightest) / BAND_STOPS120 - bands),
  );
  const bandsPerPixel = Math.max(1e-6, (120 * steepness) / BAND_STOPS120);
  const halfWidth = line % BANDS_OF_THICK === 0 ? 2.5 : 1;
  const covered = Math.min(1, Math.max(0, halfWidth + 0.5 - Math.abs(bands - line) / bandsPerPixel));
  return Math.round(shade + (LINE - shade) * covered);
}

function words(figures: SurveyFigures, width: number, height: number): string {
  const places = Object.entries(sheetPlaces).map(([name, [across, down]]) => {
    const { value } = figures.places[name as keyof typeof sheetPlaces];
    const x = MARGIN + width / 2 + across * (width / 2 - 0.6 * LETTERS);
    const y = MARGIN + height / 2 + down * (height / 2 - 0.8 * LETTERS) + 0.35 * LETTERS;
    const anchor = across < 0 ? 'start' : across > 0 ? 'end' : 'middle';
    return haloed(x, y, anchor, hundredthsOf(value));
  });
  const middle = haloed(MARGIN + width / 2, MARGIN + height / 2 + 0.35 * LETTERS, 'middle', '0');
  const foot = `<text x="${MARGIN}" y="${MARGIN + height + 1.4 * LETTERS}">Stops from the middle; lines ${fraction(1)}, thick ${fraction(BANDS_OF_THICK)}</text>`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width + 2 * MARGIN}" height="${height + 2 * MARGIN + 2 * LETTERS}" ` +
    `font-size="${LETTERS}" font-family="DejaVu Sans, Arial, Helvetica, sans-serif" fill="${INK}">` +
    `${places.join('')}${middle}${foot}</svg>`
  );
}

function fraction(bands: number): string {
  return formatStops(bands * BAND_STOPS120).slice(1);
}

function hundredthsOf(stops: number): string {
  const rounded = stops.toFixed(2);
  return Number(rounded) > 0 ? `+${rounded}` : rounded;
}

function haloed(x: number, y: number, anchor: string, text: string): string {
  return `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" text-anchor="${anchor}" stroke="#fff" paint-order="stroke" stroke-linejoin="round" stroke-width="${LETTERS * 0.3}">${text}</text>`;
}
