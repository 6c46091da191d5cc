import { type Command, Option } from 'commander';
import { proposeBurns } from '../../darkroom/evenness/edge-burns.js';
import { evennessPng } from '../../darkroom/evenness/evenness-picture.js';
import { type SurveyAsked, surveyLight } from '../../darkroom/evenness/survey-light.js';
import { isoBounds } from '../../darkroom/paper/iso-6846.js';
import { readStripScan } from '../../darkroom/reading/strip-scan.js';
import { isSameFile } from '../../files/same-file.js';
import { formatStops, readStops } from '../../recipe/text/stop-text.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { LightUntoldError, lightAccount, lightData, USUAL_STEP } from '../evenness-account.js';
import { namingOption } from '../naming-option.js';
import { examples, forceOption, jsonOption } from '../options.js';
import { readCount, readOption } from '../read-options.js';
import { print, printJson, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkIsNoSource, checkNewFile, checkPngName, writeNewFile } from '../write-new-file.js';

interface SurveyOptions {
  readonly darker?: string;
  readonly darkerBy?: string;
  readonly range?: string;
  readonly turned?: string;
  readonly by?: 'flatbed' | 'phone';
  readonly lensHeight?: string;
  readonly picture?: string;
  readonly force?: true;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .argument('<scan>', 'scan of a dry sheet, exposed to an even grey with no negative in the carrier, whole')
    .option('--darker <scan>', 'a second sheet, exposed alike but longer: tells light from grey by measuring')
    .option(
      '--darker-by <stops>',
      `how much more light that one had; ${USUAL_STEP} is supposed where it is not told`,
    )
    .option(
      '--range <R>',
      "in place of a second sheet, the paper's ISO range through the filter that was in: R110",
    )
    .option('--turned <scan>', 'the first sheet once more, turned by 180 degrees on the glass')
    .addOption(
      new Option('--by <device>', 'what made the scans; by default a phone for JPEG, else a flatbed').choices(
        ['flatbed', 'phone'],
      ),
    )
    .option('--lens-height <mm>', 'from the lens down to the paper, to tell a tilt in millimetres')
    .option('--picture <file>', 'write a map of the light, its name ending in .png')
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle survey grey.tif --darker grey-longer.tif --picture light.png',
        'treadle survey grey.tif --range R110 --turned grey-turned.tif --lens-height 420',
      ),
    )
    .action(survey);
}

async function survey(path: string, options: SurveyOptions): Promise<void> {
  await mayWrite(path, options);
  await checkSecond('--darker', path, options.darker);
  await checkSecond('--turned', path, options.turned);
  const lensHeightMm =
    options.lensHeight === undefined ? undefined : readCount('--lens-height', options.lensHeight, 50, 3000);
  const asked = await askedOf(path, options);
  const { refused, figures } = surveyLight(asked);
  if (figures === undefined) {
    if (options.json) printJson(lightData(undefined, refused));
    throw new LightUntoldError(refused!);
  }
  const told = {
    figures,
    burns: proposeBurns(figures.field),
    lensHeightMm,
    by: byWords(options, figures.rangeR),
  };
  if (options.picture !== undefined) {
    await writeNewFile(options.picture, await evennessPng(figures), options.force === true, '--picture');
    remark(`The map is in ${options.picture}.`);
  }
  if (options.json) printJson(lightData(told, null));
  else print(lightAccount(told));
}

/** @throws UsageError for the first scan itself: it would tell that light and scanner are perfect. */
async function checkSecond(option: string, path: string, second: string | undefined): Promise<void> {
  if (second !== undefined && (await isSameFile(path, second)))
    throw new UsageError(`${option}: ${second} is the first scan itself; give the other one`);
}

async function mayWrite(path: string, { picture, force, darker, turned }: SurveyOptions): Promise<void> {
  if (picture === undefined) return;
  checkPngName(picture, '--picture');
  await checkNewFile(picture, force === true, '--picture');
  await checkIsNoSource(picture, [path, darker, turned], '--picture');
}

async function askedOf(path: string, options: SurveyOptions): Promise<SurveyAsked> {
  const { darker, range, turned } = options;
  if ((darker === undefined) === (range === undefined))
    throw new UsageError(
      'light is told from grey by one of two: a second sheet, exposed half a stop longer and scanned (--darker), or the ISO range of the paper (--range R110)',
    );
  const grey = await namingOption('<scan>', () => readStripScan(path));
  const by =
    darker === undefined
      ? { rangeR: readOption('--range', range!, readRange), spreadR: TOLD_SPREAD_R }
      : {
          stops: readOption('--darker-by', options.darkerBy ?? USUAL_STEP, readStep),
          isSupposed: options.darkerBy === undefined,
          darker: await namingOption('--darker', () => readStripScan(darker)),
        };
  return {
    grey,
    by,
    turned: turned === undefined ? undefined : await namingOption('--turned', () => readStripScan(turned)),
    device: options.by ?? grey.device,
  };
}

/** Boxes and data sheets state it to the nearest 10, and a developer moves it by as much. */
const TOLD_SPREAD_R = 7;

function readRange(text: string): number {
  const { min, max } = isoBounds.rangeR;
  const rangeR = /^R?\d{2,3}$/i.test(text.trim()) ? Number(text.trim().replace(/^R/i, '')) : Number.NaN;
  if (rangeR >= min && rangeR <= max) return rangeR;
  throw new UnreadableText(`'${text}' is not an ISO range; write it as R110, from R${min} to R${max}`);
}

function tens(value: number): number {
  return Math.round(value / 10) * 10;
}

function readStep(text: string): number {
  const stops = readStops(text) / 120;
  if (stops >= 0.25 && stops <= 1.5) return stops;
  throw new UnreadableText(`'${text}' is not from 1/4 to 1 1/2 stops; 1/2 tells best`);
}

function byWords({ darkerBy }: SurveyOptions, rangeR: number | undefined): string {
  if (rangeR !== undefined) {
    const stops = formatStops(readStops(darkerBy ?? USUAL_STEP));
    const step =
      darkerBy === undefined
        ? `${stops} stop, which is supposed since --darker-by told no other`
        : `${stops} stop`;
    return `Light was told from grey by the second sheet, ${step}: no paper's curve is supposed. So much darker by so much light is a paper of about R${tens(rangeR)}; if yours is far from that, the second sheet had other light: tell it by --darker-by.`;
  }
  return `Light was told from grey by the paper's range as you gave it and by the curve that previews take for every paper, which yours is supposed to have: --darker measures it.`;
}
