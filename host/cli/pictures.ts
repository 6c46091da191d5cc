import type { GreyPicture, Negative, ScanReading } from '../darkroom/index.js';
import { namingOption } from './naming-option.js';
import { print } from './terminal/print.js';

const COLUMNS = 72;
/** Rows of the invented negative that stands in for a scan. */
const DEMO_PIXELS = 800;

/** What a command needs to know of the negative that it shows prints of. */
export interface ScanOptions {
  readonly scan?: string;
  readonly scanIs: ScanReading['as'];
}

/** The scan that was named, or the negative of the demonstration. */
export async function negativeFor({ scan, scanIs }: ScanOptions): Promise<Negative> {
  const { boathouseNegative, commonScanReading, negativeFromScan } = await import('../darkroom/index.js');
  if (scan === undefined) return boathouseNegative(DEMO_PIXELS);
  return namingOption('--scan', () => negativeFromScan(scan, { ...commonScanReading, as: scanIs }));
}

/** Draws it in a terminal that has colours for it. */
export async function showPicture(picture: GreyPicture): Promise<void> {
  const { terminalColour, terminalPicture } = await import('../darkroom/index.js');
  const colour = terminalColour({ isTTY: process.stdout.isTTY === true, env: process.env });
  if (!colour) return;
  const columns = Math.min(COLUMNS, process.stdout.columns ?? COLUMNS);
  for (const line of await terminalPicture(picture, columns, colour)) print(line);
}
