import type { GreyPicture, Negative, ScanReading } from '../darkroom/index.js';
import type { Framing } from '../recipe/framing.js';
import { namingOption } from './naming-option.js';
import { print } from './terminal/print.js';

const COLUMNS = 72;
/** Rows of the invented negative that stands in for a scan. */
const DEMO_PIXELS = 800;

/** What a command needs to know of the negative that it shows prints of. */
export interface ScanOptions {
  readonly scan?: string;
  /** By default what the recipe says. */
  readonly scanIs?: ScanReading['as'];
}

/** The scan that was named, or the negative of the demonstration, as it lies between the easel's blades. */
export async function negativeFor(
  { scan, scanIs }: ScanOptions,
  framing: Framing | undefined,
  longestSidePixels?: number,
): Promise<Negative> {
  const { boathouseNegative, commonScanReading, framed, negativeFromScan } = await import(
    '../darkroom/index.js'
  );
  if (scan === undefined) return framed(boathouseNegative(DEMO_PIXELS), framing);
  const reading = { ...commonScanReading, as: scanIs ?? framing?.scanIs ?? 'negative' };
  return framed(
    await namingOption('--scan', () => negativeFromScan(scan, reading, longestSidePixels)),
    framing,
  );
}

/** Draws it in a terminal that has colours for it. */
export async function showPicture(picture: GreyPicture): Promise<void> {
  const { terminalColour, terminalPicture } = await import('../darkroom/index.js');
  const colour = terminalColour({ isTTY: process.stdout.isTTY === true, env: process.env });
  if (!colour) return;
  const columns = Math.min(COLUMNS, process.stdout.columns ?? COLUMNS);
  for (const line of await terminalPicture(picture, columns, colour)) print(line);
}
