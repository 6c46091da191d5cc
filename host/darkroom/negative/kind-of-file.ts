import { open } from 'node:fs/promises';
import type { Metadata } from 'sharp';
import { ScanError } from './scan-error.js';

/** Only what can be a scan goes to the picture library. @throws ScanError */
export async function checkKind(path: string, name: string): Promise<void> {
  if (!(await isPicture(path)))
    throw new ScanError(`${name} is no picture that can be a scan: give a TIFF, PNG or JPEG file`);
}

/** How each kind begins: TIFF 6.0 and its kind for large files, PNG (ISO/IEC 15948, 5.2), JPEG (ITU-T T.81, B.1). */
const beginnings = ['49492a00', '4d4d002a', '49492b00', '4d4d002b', '89504e47', 'ffd8ff'];

/** The library reads many more kinds, among them some that draw and ask for files: those are kept from it. */
async function isPicture(path: string): Promise<boolean> {
  const file = await open(path);
  try {
    const { buffer } = await file.read(Buffer.alloc(4), 0, 4, 0);
    return beginnings.some((beginning) => buffer.toString('hex').startsWith(beginning));
  } finally {
    await file.close();
  }
}

/**
 * Only what a scanner's or a camera's numbers are is read as light.
 * @throws ScanError for inks in place of light, and for numbers whose white nobody knows
 */
export function checkNumbers({ space, depth }: Metadata, name: string): void {
  if (space === 'cmyk')
    throw new ScanError(`${name} is in the colours of printing presses (CMYK): scan in grey or in RGB`);
  if (depth === 'float' || depth === 'double')
    throw new ScanError(`${name} has numbers with fractions (float): save it in 8 or 16 bits`);
}
