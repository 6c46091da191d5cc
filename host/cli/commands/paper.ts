import { basename } from 'node:path';
import type { Command } from 'commander';
import type { KeptReading, KeptStripReading } from '../../darkroom/profile/kept-reading.js';
import { canBeOneStrip } from '../../darkroom/profile/wet-and-dry.js';
import { keepStrip, keptPatches, readPaperName } from '../../daylight/papers/keep-strip.js';
import {
  type MeasuredPaper,
  paperName,
  paperProfileOf,
  papersInUse,
} from '../../daylight/papers/measured-paper.js';
import { measuredPaperFile } from '../../daylight/papers/measured-paper-file.js';
import { isSameFile } from '../../files/same-file.js';
import { jsonText } from '../../json-text.js';
import { paperChartSvg } from '../../pages/paper/paper-chart.js';
import { pictureLibrary } from '../../picture-library.js';
import { readExposure } from '../../recipe/text/time-text.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import type { ArchiveReader } from '../../records/archive/archive.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { nightOf } from '../../records/log/night.js';
import { filterOfStrip } from '../filter-of-strip.js';
import { archiveOption, examples, forceOption, jsonOption, outputOption } from '../options.js';
import { chartOf, paperAccount, paperData, versionsOf, versionTable } from '../paper-account.js';
import { profileNamed, readPaperNamed } from '../profile-named.js';
import { readCount, readOption } from '../read-options.js';
import { StripUnreadError } from '../reading-account.js';
import {
  addStripOptions,
  type KnownStrip,
  knownStrip,
  readScannedStrip,
  type StripScanOptions,
} from '../scanned-strip.js';
import { readTablet, tabletDoses } from '../step-tablet.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';
import { checkNewFile, isSvgName, writeNewFile } from '../write-new-file.js';

interface PaperOptions {
  readonly developer?: string;
  readonly archive?: string;
  readonly json?: true;
}

interface ShowOptions extends PaperOptions {
  readonly asOf?: string;
  readonly chart?: string;
  readonly force?: true;
}

interface AddOptions extends PaperOptions, StripScanOptions {
  readonly filter?: string;
  readonly tablet?: string;
  readonly exposure?: string;
  readonly light?: string;
  readonly lux?: string;
  readonly wet?: string;
}

export function define(command: Command): void {
  command.helpCommand('help [command]', 'print the help of a command');
  command.addHelpText(
    'after',
    examples(
      'treadle paper',
      'treadle paper add "Pearl" strip.tif --developer "print 1:9"',
      'treadle paper show "Pearl" --chart pearl.png',
      'treadle paper leave-out "Pearl" 3',
    ),
  );
  command
    .command('show', { isDefault: true })
    .description('show what was measured of a paper, or list the papers')
    .argument('[paper]', 'the paper as you call it')
    .option('--developer <words>', 'the developer; by default the one read last')
    .option('--as-of <version>', 'the profile as it was in this version')
    .option('--chart <file>', 'draw its curves into this file, its name ending in .png or .svg')
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle paper', 'treadle paper show "Pearl" --chart pearl.png'))
    .action(show);
  addStripOptions(
    command
      .command('add')
      .description('read the scan of a strip into the profile of its paper')
      .argument('<paper>', 'the paper as you call it')
      .argument('<scan>', 'picture of the dry strip with its white border, automatic corrections off'),
  )
    .option('--developer <words>', 'the developer; by default the one read last')
    .option('--filter <filter>', 'the filter, where the log does not say it')
    .option('--tablet <steps>', 'the print of a step tablet: 21x0.15, or the density of each step')
    .option('--exposure <time>', 'exposure of the whole tablet')
    .option('--light <words>', 'names what had the same height, lens stop and lamp; by default the night')
    .option('--lux <figure>', 'light on the easel, measured without negative and filter: gives the ISO speed')
    .option('--wet <scan>', 'the same strip scanned wet: gives the dry-down')
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle paper add "Pearl" strip.tif',
        'treadle paper add "Pearl" strip.tif --filter 2 --first 5s --step 1/2 --patches 7',
        'treadle paper add "Pearl" tablet.tif --filter 2 --tablet 21x0.15 --exposure 10s --edges-at 60,1980',
      ),
    )
    .action(add);
  command
    .command('export')
    .description('write what was measured as a paper file, for --paper of other commands')
    .argument('<paper>', 'the paper as you call it')
    .option('--developer <words>', 'the developer; by default the one read last')
    .option('--as-of <version>', 'the profile as it was in this version')
    .addOption(outputOption('file to write; by default it is printed'))
    .addOption(forceOption())
    .addOption(archiveOption())
    .addHelpText('after', examples('treadle paper export "Pearl" -o pearl.json'))
    .action(exportPaper);
  command
    .command('versions')
    .description('list the versions of a profile: what each added')
    .argument('<paper>', 'the paper as you call it')
    .option('--developer <words>', 'the developer; by default the one read last')
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText('after', examples('treadle paper versions "Pearl"'))
    .action(listVersions);
  sayOfStrip(command, 'leave-out', 'leave a strip out of the profile; it stays kept', 'left-out');
  sayOfStrip(command, 'take-in', 'take a strip in again that was left out', 'taken-in');
}

async function show(paper: string | undefined, options: ShowOptions): Promise<void> {
  const writeChart =
    options.chart === undefined ? undefined : await chartWriter(options.chart, options.force === true);
  await using archive = await readArchive(options.archive);
  if (paper === undefined) return await list(archive, options);
  const measured = await profileNamed(archive, paper, options);
  await writeChart?.(measured);
  if (options.json) printJson(paperData(measured));
  else print(paperAccount(measured));
  if (options.chart !== undefined) remark(`The curves are in ${options.chart}.`);
}

async function list(archive: ArchiveReader, { json }: PaperOptions): Promise<void> {
  const papers = await papersInUse(archive);
  if (json) return printJson(papers);
  if (papers.length === 0)
    return remark("No paper was read yet: 'treadle paper add' reads the scan of a strip.");
  print(
    table(
      ['paper', 'developer', 'versions', 'last read'].map((head) => ({ head })),
      papers.map(({ paper, developer, versions, lastMs }) => [
        paper,
        developer,
        `${versions}`,
        nightOf(lastMs),
      ]),
    ),
  );
}

async function exportPaper(
  paper: string,
  options: ShowOptions & { readonly output?: string },
): Promise<void> {
  const { output, force } = options;
  if (output !== undefined) await checkNewFile(output, force === true);
  await using archive = await readArchive(options.archive);
  const measured = await profileNamed(archive, paper, options);
  const text = jsonText(measuredPaperFile(measured), 2);
  if (output === undefined) print(text);
  else await writeNewFile(output, `${text}\n`, force === true);
  if (measured.profile.filters.every(({ speedP }) => speedP === undefined))
    remark(
      'No light was measured: its speeds are right beside each other, and none of them is an ISO speed.',
    );
}

async function listVersions(paper: string, options: PaperOptions): Promise<void> {
  await using archive = await readArchive(options.archive);
  const { paper: name, developer } = await profileNamed(archive, paper, options);
  const rows = await archive.paperReadings(name);
  const versions = versionsOf(rows.filter((row) => row.developer === developer));
  if (options.json) printJson(versions);
  else print(versionTable(versions));
}

/** Nothing is worked out for a name that no chart can have. */
async function chartWriter(path: string, over: boolean): Promise<(measured: MeasuredPaper) => Promise<void>> {
  const isSvg = isSvgName(path, '--chart');
  await checkNewFile(path, over, '--chart');
  return async (measured) => {
    const { chart, bounds } = chartOf(measured);
    if (chart.panels.length === 0)
      throw new UsageError('--chart: no filter has both range and factor yet; read more strips');
    const svg = paperChartSvg(chart, bounds);
    await writeNewFile(path, isSvg ? svg : await pngOf(svg), over, '--chart');
  };
}

async function pngOf(svg: string): Promise<Uint8Array> {
  const sharp = await pictureLibrary();
  return sharp(Buffer.from(svg)).png().toBuffer();
}

async function add(paper: string, path: string, options: AddOptions): Promise<void> {
  const typed = readOption('<paper>', paper, readPaperName);
  const strip = options.tablet === undefined ? await knownStrip(options) : tabletStrip(options);
  const lux = options.lux === undefined ? undefined : readOption('--lux', options.lux, readLux);
  const filter = filterOfStrip(strip, options.filter);
  const said =
    options.developer === undefined ? undefined : readOption('--developer', options.developer, readPaperName);
  const light = options.light && readOption('--light', options.light, readPaperName);
  if (options.wet !== undefined && (await isSameFile(path, options.wet)))
    throw new UsageError(
      `--wet: ${options.wet} is the scan of the dry strip; give the one made while it was wet`,
    );
  const dry = await readOne(path, '<scan>', strip, options);
  const wet = options.wet === undefined ? undefined : await readOne(options.wet, '--wet', strip, options);
  if (wet !== undefined && !canBeOneStrip(dry.patches, wet.patches))
    throw new UsageError(
      `--wet: ${options.wet} is not ${path} wet: their tones differ by more than drying can make of one strip; give both scans of the same strip, or leave --wet out`,
    );
  const body: KeptStripReading = {
    kind: 'strip',
    filter,
    device: dry.device,
    ...(options.tablet !== undefined && { wedge: options.tablet.trim() }),
    light: light ?? strip.night ?? nightOf(Date.now()),
    ...(lux !== undefined && { lux }),
    scan: basename(path),
    ...(strip.sheet !== undefined && { sheet: `${strip.night ?? 'undated'}/${strip.sheet}` }),
    patches: dry.patches,
    ...(wet !== undefined && { wet: wet.patches }),
  };
  await using archive = await openArchive(options.archive);
  const kept = await keepStrip(archive, { paper: typed, developer: said, body });
  await tellProfile(archive, kept.paper, kept.developer, options);
  if (kept.isApart)
    remark(
      cleanText(`Strips of ${kept.paper} that were read without --developer are a profile of their own.`),
    );
}

async function tellProfile(
  archive: ArchiveReader,
  paper: string,
  developer: string,
  { json }: PaperOptions,
): Promise<void> {
  const measured = await paperProfileOf(archive, paper, developer);
  if (measured !== undefined) return json ? printJson(paperData(measured)) : print(paperAccount(measured));
  if (json) printJson({ paper, developer, filters: [] });
  remark(
    `Every strip of ${paperName({ paper, developer })} is left out: it is not listed any more. 'treadle paper take-in' takes one in again.`,
  );
}

function tabletStrip({ tablet, exposure, first, step, patches, sheet }: AddOptions): KnownStrip {
  if ([first, step, patches, sheet].some((each) => each !== undefined))
    throw new UsageError('--tablet tells all steps: leave out --sheet, --first, --step and --patches');
  if (exposure === undefined) throw new UsageError('--tablet needs --exposure, the time that all of it had');
  const densities = readOption('--tablet', tablet!, readTablet);
  return { dosesMs: tabletDoses(readOption('--exposure', exposure, readExposure), densities) };
}

/** Of enlargers, and room around it (from memory: some 0.5 to 50). */
const DIMMEST_LUX = 0.05;
const BRIGHTEST_LUX = 500;

function readLux(text: string): number {
  const lux = /^\d{1,4}(\.\d{1,3})?$/.test(text.trim()) ? Number(text) : 0;
  if (lux >= DIMMEST_LUX && lux <= BRIGHTEST_LUX) return lux;
  throw new UnreadableText(
    `'${text}' is not a light in lux on an easel; write ${DIMMEST_LUX} to ${BRIGHTEST_LUX}, such as 1.8`,
  );
}

const SPEED_TONE = 0.6;

async function readOne(
  path: string,
  argument: string,
  strip: KnownStrip,
  options: AddOptions,
): Promise<Pick<KeptStripReading, 'device' | 'patches'>> {
  const { device, reading } = await readScannedStrip(path, argument, strip, SPEED_TONE, options);
  if (reading.refused !== null) throw new StripUnreadError(reading.refused);
  return { device, patches: keptPatches(reading) };
}

function sayOfStrip(command: Command, name: string, what: string, kind: 'left-out' | 'taken-in'): void {
  command
    .command(name)
    .description(what)
    .argument('<paper>', 'the paper as you call it')
    .argument('<strip>', "its number, as 'treadle paper show' has it")
    .option('--developer <words>', 'the developer; by default the one read last')
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText('after', examples(`treadle paper ${name} "Pearl" 3`))
    .action(async (paper: string, strip: string, options: PaperOptions) => {
      await using archive = await openArchive(options.archive);
      const named = await readPaperNamed(archive, paper, options.developer);
      const reading = readCount('<strip>', strip, 1, named.strips);
      const body: KeptReading = { kind, reading };
      await archive.addPaperReading({ paper: named.paper, developer: named.developer, body });
      await tellProfile(archive, named.paper, named.developer, options);
    });
}
