import { escapeXml } from '../../escape.js';
import { pictureLibrary } from '../../picture-library.js';
import type { GreyPicture } from './grey.js';

/** What the white border of a strip says under a patch. */
export interface PatchCaption {
  /** In per cent of the width. */
  readonly fromPercent: number;
  readonly toPercent: number;
  /** At most two short lines, such as '7.071 s' and '+1/2'. */
  readonly lines: readonly string[];
}

/** The paper's white border, as an easel's blades leave it, in parts of the picture's shorter side. */
const BORDER_SHARE = 0.045;
const PAPER_GREY = 246;
const INK = '#222';
const TICK = '#555';

/** A print with its white border, as the bytes of a PNG file. @throws PackageUnavailableError */
export async function printPng(picture: GreyPicture): Promise<Uint8Array> {
  const border = Math.round(Math.min(picture.width, picture.height) * BORDER_SHARE);
  return (await bordered(picture, border, border)).png().toBuffer();
}

/**
 * A strip with its white border, as the bytes of a PNG file; ticks mark where one patch ends and the next begins, so that they can be
 * counted even where all are black, and each patch has its caption below.
 * @throws PackageUnavailableError
 */
export async function stripPng(picture: GreyPicture, captions: readonly PatchCaption[]): Promise<Uint8Array> {
  const border = Math.round(Math.min(picture.width, picture.height) * BORDER_SHARE);
  const letterPixels = captionLetterPixels(picture, captions);
  const below = Math.round(border + letterPixels * 3);
  const overlay = captionOverlay(picture, captions, border, below, letterPixels);
  return (await bordered(picture, border, below))
    .composite([{ input: Buffer.from(overlay), left: 0, top: 0 }])
    .toColourspace('b-w')
    .png()
    .toBuffer();
}

async function bordered({ width, height, pixels }: GreyPicture, border: number, below: number) {
  const sharp = await pictureLibrary();
  const paper = { r: PAPER_GREY, g: PAPER_GREY, b: PAPER_GREY };
  return sharp(pixels, { raw: { width, height, channels: 1 } }).extend({
    top: border,
    bottom: below,
    left: border,
    right: border,
    background: paper,
  });
}

/** As large as fits the narrowest patch, but no larger than a caption should be. */
function captionLetterPixels({ width, height }: GreyPicture, captions: readonly PatchCaption[]): number {
  const fits = captions.map(({ fromPercent, toPercent, lines }) => {
    const patchPixels = ((toPercent - fromPercent) / 100) * width;
    const letters = Math.max(...lines.map((line) => line.length), 1);
    return (patchPixels * 0.92) / (letters * 0.6);
  });
  return Math.min(height * 0.036, ...fits);
}

function captionOverlay(
  { width, height }: GreyPicture,
  captions: readonly PatchCaption[],
  border: number,
  below: number,
  letterPixels: number,
): string {
  const foot = border + height;
  const tick = (xPixels: number) =>
    `<path d="M${xPixels} ${border * 0.35}V${border * 0.85}M${xPixels} ${foot + border * 0.15}V${foot + border * 0.65}" ` +
    `stroke="${TICK}" stroke-width="${Math.max(1, letterPixels * 0.08)}"/>`;
  const ticks = captions.slice(1).map(({ fromPercent }) => tick(border + (fromPercent / 100) * width));
  const texts = captions.flatMap(({ fromPercent, toPercent, lines }) => {
    const x = border + ((fromPercent + toPercent) / 200) * width;
    return lines.map((line, index) => {
      const y = foot + border * 0.75 + letterPixels * (1 + index * 1.3);
      return `<text x="${x}" y="${y}" text-anchor="middle">${escapeXml(line)}</text>`;
    });
  });
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width + 2 * border}" height="${foot + below}" ` +
    `font-family="DejaVu Sans, Arial, Helvetica, sans-serif" font-size="${letterPixels}" fill="${INK}">` +
    `${ticks.join('')}${texts.join('')}</svg>`
  );
}
