import { pictureLibrary } from '../../picture-library.js';
import { srgbOfLight } from '../negative/negative.js';
import { INNER_SHARE, type PatchPlace } from './patch-tones.js';
import type { Placed } from './read-strip.js';
import type { StripScan } from './strip-scan.js';

const EDGE = '#d00000';

/**
 * The scan with the edges that were found or given, each with its pixel of the file, and the part of each patch that was
 * read, as the bytes of a PNG file. @throws PackageUnavailableError
 */
export async function edgesPng(scan: StripScan, { picture, places }: Placed): Promise<Uint8Array> {
  const sharp = await pictureLibrary();
  const { width, height } = scan;
  const codes = Uint8Array.from(scan.light, (light) => Math.round(255 * srgbOfLight(light)));
  const overlay = overlayOf(scan, { picture, places });
  return sharp(codes, { raw: { width, height, channels: 1 } })
    .toColourspace('srgb')
    .composite([{ input: Buffer.from(overlay), left: 0, top: 0 }])
    .png()
    .toBuffer();
}

function overlayOf({ width, height, filePixels }: StripScan, { picture, places }: Placed): string {
  const letters = Math.max(11, Math.round(Math.min(width, height) * 0.04));
  const at = (x: number, y: number) =>
    picture
      .inScan(x, y)
      .map((value) => value.toFixed(1))
      .join(' ');
  const edges = edgesOf(places);
  const lines = edgeLines({ picture, places }).map(
    (ends) =>
      `<path d="M${ends.map((end) => end.map((value) => value.toFixed(1)).join(' ')).join('L')}" stroke="${EDGE}" fill="none"/>`,
  );
  const boxes = places.map((place) => innerBox(place, at));
  const numbers = places.map((place, index) => patchNumber(index + 1, place, letters, picture));
  const pixels = edges.map((x, index) => edgeText(x, index, places[0]!, letters, picture, filePixels));
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" font-size="${letters}" ` +
    `font-family="DejaVu Sans, Arial, Helvetica, sans-serif" text-anchor="middle" fill="${EDGE}" stroke-width="${letters * 0.12}">` +
    `${lines.join('')}${boxes.join('')}${numbers.join('')}${pixels.join('')}</svg>`
  );
}

type At = (x: number, y: number) => string;

function edgesOf(places: readonly PatchPlace[]): number[] {
  return [...places.map(({ left }) => left), places.at(-1)!.right];
}

type Point = readonly [x: number, y: number];

/** Both ends of every edge, in pixels of the scan, one edge more than patches, the lightest patch first. */
export function edgeLines({ picture, places }: Placed): (readonly [Point, Point])[] {
  const { top, bottom, lean } = places[0]!;
  const half = (lean * (bottom - top)) / 2;
  return edgesOf(places).map((x) => [picture.inScan(x - half, top), picture.inScan(x + half, bottom)]);
}

function innerBox({ left, right, top, bottom }: PatchPlace, at: At): string {
  const [insetX, insetY] = [
    ((1 - INNER_SHARE) / 2) * (right - left),
    ((1 - INNER_SHARE) / 2) * (bottom - top),
  ];
  const [x0, x1, y0, y1] = [left + insetX, right - insetX, top + insetY, bottom - insetY];
  return `<path d="M${at(x0, y0)}L${at(x1, y0)}L${at(x1, y1)}L${at(x0, y1)}Z" stroke="${EDGE}" stroke-dasharray="6 6" stroke-opacity="0.7" fill="none"/>`;
}

function patchNumber(
  number: number,
  { left, right, top, bottom }: PatchPlace,
  letters: number,
  picture: Placed['picture'],
): string {
  const [x, y] = picture.inScan((left + right) / 2, (top + bottom) / 2);
  return haloed(x, y + letters * 0.5, letters * 1.4, `${number}`);
}

/** Alternately high and low, so that narrow patches' figures do not lie over one another. */
function edgeText(
  edge: number,
  index: number,
  { top, bottom }: PatchPlace,
  letters: number,
  picture: Placed['picture'],
  filePixels: number,
): string {
  const px = Math.round(picture.alongScan(edge) * filePixels);
  const [x, y] = picture.inScan(
    edge,
    index % 2 === 0 ? top + (bottom - top) * 0.06 : bottom - (bottom - top) * 0.03,
  );
  return haloed(x, y, letters, `${px}`);
}

function haloed(x: number, y: number, size: number, text: string): string {
  return `<text x="${x.toFixed(1)}" y="${y.toFixed(1)}" font-size="${size}" stroke="#fff" paint-order="stroke" stroke-linejoin="round" stroke-width="${size * 0.25}">${text}</text>`;
}
