import { type Command, Option } from 'commander';
import { commonScanReading, type ScanReading } from '../darkroom/negative/negative.js';
import { negativeFromScan } from '../darkroom/negative/scan.js';
import type { AskedNegative, Spot } from '../darkroom/reading/by-negative/read-by-negative.js';
import { UnreadableText } from '../recipe/text/unreadable-text.js';
import { namingOption } from './naming-option.js';
import { readOption } from './read-options.js';
import { UsageError } from './usage-error.js';

export interface NegativeOptions {
  readonly negative?: string;
  readonly scanIs?: ScanReading['as'];
  readonly spot?: string;
}

/** As many as registering and reading need. */
const LONGEST_SIDE_PIXELS = 1200;

export function addNegativeOptions(command: Command): Command {
  return command
    .option(
      '--negative <picture>',
      'scan of the whole negative, for a strip with its picture; how the strip lies on it is found',
    )
    .addOption(
      new Option(
        '--scan-is <what>',
        'whether that scan shows a negative or a positive; by default a negative',
      ).choices(['negative', 'positive']),
    )
    .option(
      '--spot <place>',
      'place of the negative that the tone is for, in per cent from left and top, such as 40,25; by default the middle of its tones',
    );
}

/** The scan of the negative that was in the carrier, if one was named. */
export async function negativeOfStrip(options: NegativeOptions): Promise<AskedNegative | undefined> {
  const { negative: path, scanIs, spot } = options;
  if (path === undefined && (spot ?? scanIs) !== undefined)
    throw new UsageError('--spot and --scan-is are about the negative: give its scan with --negative');
  if (path === undefined) return undefined;
  const place = spot === undefined ? undefined : readOption('--spot', spot, readSpot);
  const reading = { ...commonScanReading, as: scanIs ?? commonScanReading.as };
  const negative = await namingOption('--negative', () =>
    negativeFromScan(path, reading, LONGEST_SIDE_PIXELS),
  );
  return { negative, spot: place };
}

function readSpot(text: string): Spot {
  const place = /^(\d{1,2}(?:\.\d{1,2})?),(\d{1,2}(?:\.\d{1,2})?)$/.exec(text.trim());
  if (place !== null) return { xPercent: Number(place[1]), yPercent: Number(place[2]) };
  throw new UnreadableText(
    `'${text}' is not a place; write per cent from left and top, below 100, such as 40,25`,
  );
}
