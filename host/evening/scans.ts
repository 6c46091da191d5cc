import { join } from 'node:path';
import { type Negative, srgbOfLight } from '../darkroom/negative/negative.js';
import type { GreyPicture } from '../darkroom/picture/grey.js';
import { printPng } from '../darkroom/picture/picture-file.js';
import { writeWholeFile } from '../files/write-file.js';
import { pictureLibrary } from '../picture-library.js';

/** Where the two scans lie by which the strip is read back. */
export interface EveningScans {
  readonly strip: string;
  readonly negative: string;
}

/** Their names in the folder. */
export const eveningScanFiles = { strip: 'strip-scan.png', negative: 'negative-scan.png' } as const;

/**
 * The strip with its white border and the whole negative, as a scanner without faults has them.
 * @throws FileThereError without `over` where one of them is there
 */
export async function writeEveningScans(
  strip: GreyPicture,
  negative: Negative,
  folder: string,
  { over = false }: { readonly over?: boolean } = {},
): Promise<EveningScans> {
  const scans = {
    strip: join(folder, eveningScanFiles.strip),
    negative: join(folder, eveningScanFiles.negative),
  };
  await writeWholeFile(scans.strip, await printPng(strip), { over });
  await writeWholeFile(scans.negative, await negativePng(negative), { over });
  return scans;
}

/** Bright where the film is thin, 16 bits a pixel, coded as scans are (sRGB). */
async function negativePng({ width, height, samples, logTransmittance }: Negative): Promise<Uint8Array> {
  const sharp = await pictureLibrary();
  const thinnest = Math.max(...[0, logTransmittance.length - 1].map((code) => logTransmittance[code]!));
  const codes = samples.map((code) =>
    Math.round(0xffff * srgbOfLight(10 ** (logTransmittance[code]! - thinnest))),
  );
  return sharp(codes, { raw: { width, height, channels: 1 } })
    .toColourspace('grey16')
    .png()
    .toBuffer();
}
