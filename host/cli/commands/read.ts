import { type Command, Option } from 'commander';
import { limits } from '../../../shared-protocol/limits.js';
import { edgesPng } from '../../darkroom/reading/edges-picture.js';
import { readStrip, type StripReading } from '../../darkroom/reading/read-strip.js';
import { readStripScan, type StripScan } from '../../darkroom/reading/strip-scan.js';
import { readTone } from '../../darkroom/reading/tone.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { readStops } from '../../recipe/text/stop-text.js';
import { readExposure } from '../../recipe/text/time-text.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { type StripInLog, stripInLog } from '../../records/again/strip-in-log.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { namingOption } from '../naming-option.js';
import { archiveOption, examples, forceOption, jsonOption } from '../options.js';
import { readCount, readOption } from '../read-options.js';
import { readingAccount, readingData, StripUnreadError } from '../reading-account.js';
import { print, printJson, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface ReadOptions {
  readonly sheet: string;
  readonly first?: string;
  readonly step?: string;
  readonly patches?: string;
  readonly tone: string;
  readonly by?: 'flatbed' | 'phone';
  readonly edges?: string;
  readonly edgesAt?: string;
  readonly force?: true;
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .argument('<scan>', 'picture of the dry strip with its white border, automatic corrections off')
    .option('--sheet <sheet>', 'the strip as the log has it: 2027-03-05/7, or 7 of the latest night', 'last')
    .option('--first <time>', 'a strip that no board made: exposure of its lightest patch')
    .option('--step <stops>', 'its step from patch to patch, in stops')
    .option('--patches <count>', `its number of patches, 2 to ${limits.stripPatches}`)
    .option('--tone <tone>', 'the tone that the base is for: density above paper white, or a zone', '0.6')
    .addOption(
      new Option(
        '--by <device>',
        'what made the picture; by default a phone for JPEG, else a flatbed',
      ).choices(['flatbed', 'phone']),
    )
    .option('--edges <file>', 'write the scan with the edges of its patches, its name ending in .png')
    .option('--edges-at <pixels>', 'place the edges yourself, one more than patches: 120,310,498')
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle read strip.tif --edges edges.png',
        'treadle read strip.jpg --by phone --first 5s --step 1/2 --patches 6 --tone "zone 6"',
      ),
    )
    .action(read);
}

async function read(path: string, options: ReadOptions): Promise<void> {
  if (options.edges !== undefined) await checkNewFile(options.edges, options.force === true, '--edges');
  const tone = readOption('--tone', options.tone, readTone);
  const strip = await stripOf(options);
  const scan = await namingOption('<scan>', () => readStripScan(path));
  const device = options.by ?? scan.device;
  const edgesPx = options.edgesAt === undefined ? undefined : edgesAt(options.edgesAt, strip, scan);
  const reading = readStrip(scan, { ...strip, tone, device, ...(edgesPx && { edgesPx }) });
  if (options.edges !== undefined) await writeEdges(options.edges, scan, reading, options.force === true);
  const told = { reading, strip, tone, device, colour: scan.colour };
  if (options.json) printJson(readingData(told));
  if (reading.refused !== null) throw new StripUnreadError(reading.refused);
  if (!options.json) print(readingAccount(told));
}

type Strip = Pick<StripInLog, 'dosesMs'> & Partial<StripInLog>;

async function stripOf(options: ReadOptions): Promise<Strip> {
  const { first, step, patches } = options;
  if (first !== undefined || step !== undefined || patches !== undefined)
    return stripTold(first, step, patches);
  await using archive = await readArchive(options.archive);
  return await stripInLog(archive, options.sheet);
}

function stripTold(first?: string, step?: string, patches?: string): Strip {
  if (first === undefined || step === undefined || patches === undefined)
    throw new UsageError('a strip that no board made is told by --first, --step and --patches together');
  const plan = loadPlanner().planStrip({
    firstMs: readOption('--first', first, readExposure),
    step: { stops120: readOption('--step', step, readStops) },
    patches: readCount('--patches', patches, 2, limits.stripPatches),
    cover: 'cumulative',
  });
  return { dosesMs: plan.patches.map(({ doseMs }) => doseMs) };
}

/** Pixels of the file, in those that are read. */
function edgesAt(text: string, { dosesMs }: Strip, { filePixels }: StripScan): number[] {
  const edges = readOption('--edges-at', text, readPixels);
  if (edges.length === dosesMs.length + 1) return edges.map((edge) => edge / filePixels);
  throw new UsageError(
    `--edges-at: ${edges.length} edges were given; ${dosesMs.length} patches have ${dosesMs.length + 1}, with the first one's beginning and the last one's end`,
  );
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
