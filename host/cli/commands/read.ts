import type { Command } from 'commander';
import { edgesPng } from '../../darkroom/reading/edges-picture.js';
import type { StripReading } from '../../darkroom/reading/read-strip.js';
import { readingData } from '../../darkroom/reading/reading-data.js';
import type { StripScan } from '../../darkroom/reading/strip-scan.js';
import { readTone } from '../../darkroom/reading/tone.js';
import { filterOfStrip } from '../filter-of-strip.js';
import { checkKeeps, keepTie } from '../keep-tie.js';
import { addNegativeOptions, type NegativeOptions, negativeOfStrip } from '../negative-of-strip.js';
import { archiveOption, examples, forceOption, jsonOption } from '../options.js';
import { readOption } from '../read-options.js';
import { readingAccount, StripUnreadError } from '../reading-account.js';
import { addStripOptions, knownStrip, readScannedStrip, type StripScanOptions } from '../scanned-strip.js';
import { print, printJson, remark } from '../terminal/print.js';
import { checkIsNoSource, checkNewFile, checkPngName, writeNewFile } from '../write-new-file.js';

interface ReadOptions extends StripScanOptions, NegativeOptions {
  readonly tone: string;
  readonly edges?: string;
  readonly keepIn?: string;
  readonly filter?: string;
  readonly force?: true;
  readonly json?: true;
}

export function define(command: Command): void {
  addNegativeOptions(
    addStripOptions(
      command.argument('<scan>', 'picture of the dry strip with its white border, automatic corrections off'),
    ),
  )
    .option(
      '--tone <tone>',
      'the tone that the base is for: density above paper white, a zone, or the pixels of a grey in the scan, such as "at 1840,220"',
      '0.6',
    )
    .option(
      '--keep-in <recipe>',
      'with --negative: keep in this recipe file what the strip told of film and light, for treadle preview',
    )
    .option('--filter <filter>', 'with --keep-in: the filter of the strip, where the log does not say it')
    .option('--edges <file>', 'write the scan with the edges of its patches, its name ending in .png')
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle read strip.tif --edges edges.png',
        'treadle read strip.tif --negative 07-12.tif --spot 40,25 --tone "zone 6" --keep-in boathouse.json',
        'treadle read strip.jpg --by phone --first 5s --step 1/2 --patches 6 --tone "zone 6"',
        'treadle read strip-and-scale.tif --tone "at 1840,220"',
      ),
    )
    .action(read);
}

async function read(path: string, options: ReadOptions): Promise<void> {
  if (options.edges !== undefined) {
    checkPngName(options.edges, '--edges');
    await checkNewFile(options.edges, options.force === true, '--edges');
    await checkIsNoSource(options.edges, [path, options.negative], '--edges');
  }
  if (options.keepIn !== undefined) await checkKeeps(options.keepIn, options.negative);
  const tone = readOption('--tone', options.tone, readTone);
  const strip = await knownStrip(options);
  const filter = options.keepIn === undefined ? '' : filterOfStrip(strip, options.filter);
  const { scan, device, reading } = await readScannedStrip(path, '<scan>', strip, tone, {
    ...options,
    onNegative: await negativeOfStrip(options),
  });
  if (options.edges !== undefined) await writeEdges(options.edges, scan, reading, options.force === true);
  const told = { reading, strip, device, colour: scan.colour };
  if (options.json) printJson(readingData(told));
  if (reading.refused !== null) throw new StripUnreadError(reading.refused);
  if (!options.json) print(readingAccount(told));
  if (options.keepIn !== undefined) await keepTie(options.keepIn, reading, filter);
}

async function writeEdges(
  path: string,
  scan: StripScan,
  { placed }: StripReading,
  over: boolean,
): Promise<void> {
  if (placed === undefined) return;
  await writeNewFile(path, await edgesPng(scan, placed), over, '--edges');
  remark(`The edges are in ${path}: where one is wrong, place all of them with --edges-at.`);
}
