import { type Command, Option } from 'commander';
import { limits } from '../../shared-protocol/limits.js';
import type { AskedNegative } from '../darkroom/reading/by-negative/read-by-negative.js';
import { readStrip, type StripReading } from '../darkroom/reading/read-strip.js';
import { readStripScan, type StripScan } from '../darkroom/reading/strip-scan.js';
import { inScan, type TonePlace } from '../darkroom/reading/tone.js';
import { loadPlanner } from '../recipe/planner/index.js';
import { readStops } from '../recipe/text/stop-text.js';
import { readExposure } from '../recipe/text/time-text.js';
import { UnreadableText } from '../recipe/text/unreadable-text.js';
import { type StripInLog, stripInLog, stripWords } from '../records/again/strip-in-log.js';
import { isArchiveThere, readArchive } from '../records/archive/read-archive.js';
import { namingOption } from './naming-option.js';
import { readCount, readOption } from './read-options.js';
import { remark } from './terminal/print.js';
import { UsageError } from './usage-error.js';

/** How a scanned strip is told, for the commands that read one. */
export interface StripScanOptions {
  readonly sheet?: string;
  readonly first?: string;
  readonly step?: string;
  readonly patches?: string;
  readonly by?: 'flatbed' | 'phone';
  readonly edgesAt?: string;
  readonly archive?: string;
  readonly json?: true;
}

export function addStripOptions(command: Command): Command {
  return command
    .option(
      '--sheet <sheet>',
      'the strip as the log has it: 2027-03-05/7, or 7 of the latest night; by default the last',
    )
    .option('--first <time>', 'a strip that no board made: exposure of its lightest patch')
    .option('--step <stops>', 'its step from patch to patch, in stops')
    .option('--patches <count>', `its number of patches, 2 to ${limits.stripPatches}`)
    .addOption(
      new Option(
        '--by <device>',
        'what made the picture; by default a phone for JPEG, else a flatbed',
      ).choices(['flatbed', 'phone']),
    )
    .option(
      '--edges-at <pixels>',
      'place the edges yourself, one more than patches: 120,310,498; or two, with even patches between',
    );
}

export type KnownStrip = Pick<StripInLog, 'dosesMs'> &
  Partial<StripInLog> & {
    /** By the person, and not by the log. */
    readonly isCounted?: boolean;
  };

/** From the log, or as it was told. */
export async function knownStrip(options: StripScanOptions): Promise<KnownStrip> {
  const { first, step, patches, sheet } = options;
  const isTold = [first, step, patches].some((each) => each !== undefined);
  if (isTold && sheet !== undefined)
    throw new UsageError(
      '--sheet names a strip of the log, and --first, --step and --patches tell one that no board made: give the one or the others',
    );
  if (isTold) return stripTold(first, step, patches);
  if (!isArchiveThere(options.archive))
    throw new UsageError(
      "there is no archive yet that could have the strip: fetch the board's log with 'treadle collect', or tell the strip by --first, --step and --patches",
    );
  await using archive = await readArchive(options.archive);
  const strip = await stripInLog(archive, sheet ?? 'last');
  // Another strip of as many patches would be read by these times without a word.
  if (sheet === undefined && options.json === undefined)
    remark(
      `The exposures are those of ${stripWords(strip)}, the last strip of the log; --sheet names another.`,
    );
  return strip;
}

function stripTold(first?: string, step?: string, patches?: string): KnownStrip {
  if (first === undefined || step === undefined || patches === undefined)
    throw new UsageError('a strip that no board made is told by --first, --step and --patches together');
  const plan = loadPlanner().planStrip({
    firstMs: readOption('--first', first, readExposure),
    step: { stops120: readOption('--step', step, readStops) },
    patches: readCount('--patches', patches, 2, limits.stripPatches),
    cover: 'cumulative',
  });
  return { dosesMs: plan.patches.map(({ doseMs }) => doseMs), isCounted: true };
}

export interface ScannedStrip {
  readonly scan: StripScan;
  readonly device: 'flatbed' | 'phone';
  readonly reading: StripReading;
}

/** @param argument by which words name the file. */
export async function readScannedStrip(
  path: string,
  argument: string,
  { dosesMs, isCounted }: Pick<KnownStrip, 'dosesMs' | 'isCounted'>,
  tone: number | TonePlace,
  options: Pick<StripScanOptions, 'by' | 'edgesAt'> & { readonly onNegative?: AskedNegative | undefined },
): Promise<ScannedStrip> {
  const scan = await namingOption(argument, () => readStripScan(path));
  const device = options.by ?? scan.device;
  const edgesPx = options.edgesAt === undefined ? undefined : edgesAt(options.edgesAt, dosesMs, scan);
  const negative = options.onNegative;
  const asked = {
    dosesMs,
    isCounted,
    tone: inScan(tone, scan),
    device,
    negative,
    ...(edgesPx && { edgesPx }),
  };
  return { scan, device, reading: readStrip(scan, asked) };
}

/** Pixels of the file, in those that are read. */
function edgesAt(text: string, dosesMs: readonly number[], { filePixels }: StripScan): number[] {
  const edges = readOption('--edges-at', text, readPixels);
  if (edges.length === dosesMs.length + 1) return edges.map((edge) => edge / filePixels);
  if (edges.length === 2) return evenEdges(edges, dosesMs.length).map((edge) => edge / filePixels);
  throw new UsageError(
    `--edges-at: ${edges.length} edges were given; ${dosesMs.length} patches have ${dosesMs.length + 1}, with the first one's beginning and the last one's end`,
  );
}

/** Of patches that are all as wide, as a step tablet's: from where the first begins and the last one ends. */
function evenEdges([from, to]: readonly number[], patches: number): number[] {
  return Array.from({ length: patches + 1 }, (_, at) => from! + ((to! - from!) * at) / patches);
}

function readPixels(text: string): number[] {
  if (!/^\d{1,6}(,\d{1,6})*$/.test(text))
    throw new UnreadableText(
      `'${text}' is not a list of pixels; write them with commas, such as 120,310,498`,
    );
  const edges = text.split(',').map(Number);
  if (new Set(edges).size === edges.length) return edges;
  throw new UnreadableText(`'${text}' has a pixel twice; each edge has its own`);
}
