import { type Command, Option } from 'commander';
import { type ApertureScale, readAperture } from '../../darkroom/optics/aperture.js';
import type { Rescaled } from '../../daylight/rescale.js';
import { type RecipeChange, rescaleRecipe } from '../../daylight/revise/revise.js';
import { seconds } from '../../figures.js';
import { readPrintSize } from '../../recipe/print-size.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import { examples, forceOption, jsonOption, outputOption } from '../options.js';
import { readOption } from '../read-options.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { adviceLines } from '../terminal/advice-lines.js';
import { cleanText } from '../terminal/clean-text.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';

interface RescaleOptions extends NewVersionOptions {
  readonly magnification?: string;
  readonly from?: string;
  readonly to?: string;
  readonly negative?: string;
  readonly columnHeight?: string;
  readonly focalLength?: string;
  readonly pupilFactor?: string;
  readonly aperture?: string;
  readonly apertureScale?: ApertureScale;
  readonly paperSpeed?: string;
}

export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .option(
      '--magnification <from:to>',
      'print side over negative side, such as 3:4.5; only the new one if the recipe has the old',
    )
    .option('--from <size>', 'size of the old print, such as 18x24cm')
    .option('--to <size>', 'size of the new print of the same negative')
    .option('--negative <size>', 'size of the negative, such as 24x36mm; makes --from and --to exact')
    .option('--column-height <from:to>', 'distance from negative to paper in mm; needs --focal-length')
    .option('--focal-length <mm>', 'focal length of the enlarging lens')
    .option(
      '--pupil-factor <factor>',
      'lens pupil on the paper side over the one on the negative side, if you know it',
    )
    .option('--aperture <from:to>', 'lens stop, such as f/8:f/11; only the new one if the recipe has the old')
    .addOption(
      new Option(
        '--aperture-scale <scale>',
        'how the lens is marked, where a number could be either',
      ).choices(['halves', 'thirds']),
    )
    .option('--paper-speed <from:to>', 'ISO P of the papers, such as 200:250')
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle rescale boathouse.json --magnification 5:8 --aperture f/8:f/5.6',
        'treadle rescale boathouse.json --from 18x24cm --to 30x40cm -o boathouse-large.json',
      ),
    )
    .action(rescale);
}

async function rescale(path: string, options: RescaleOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  const { recipe: changed, account } = rescaleRecipe(recipe, changeFrom(options), new Date());
  await tellNewVersion(changed, { words: words(account), data: account }, options);
}

function changeFrom(options: RescaleOptions): RecipeChange {
  refuseWithout(options);
  const { apertureScale } = options;
  const aperture = (text: string) =>
    readOption('--aperture', text, (written) => readAperture(written, apertureScale));
  return {
    ...(options.magnification && { magnification: pair('--magnification', options.magnification, positive) }),
    ...paperChange(options),
    ...(options.columnHeight && {
      columnMm: {
        ...pair('--column-height', options.columnHeight, positive),
        ...(options.focalLength && { focalLengthMm: positive('--focal-length', options.focalLength) }),
      },
    }),
    ...(options.pupilFactor && { pupilFactor: positive('--pupil-factor', options.pupilFactor) }),
    ...(options.aperture && { aperture: pair('--aperture', options.aperture, (_, text) => aperture(text)) }),
    ...(apertureScale && { apertureScale }),
    ...(options.paperSpeed && { paperSpeedP: wholePair('--paper-speed', options.paperSpeed) }),
  };
}

/** What says something only together with another option would be passed over without a word. */
function refuseWithout(options: RescaleOptions): void {
  const { from, to, columnHeight, magnification, aperture } = options;
  const papers = from ?? to;
  const needs: [keyof RescaleOptions, string, string | undefined][] = [
    [
      'negative',
      '--negative goes with --from and --to: it tells at what magnification it fills them',
      papers,
    ],
    ['focalLength', '--focal-length goes with --column-height', columnHeight],
    ['pupilFactor', '--pupil-factor goes with a change of size', magnification ?? columnHeight ?? papers],
    ['apertureScale', '--aperture-scale goes with --aperture', aperture],
  ];
  for (const [option, words, needed] of needs)
    if (options[option] !== undefined && needed === undefined) throw new UsageError(words);
}

function paperChange({ from, to, negative }: RescaleOptions): Pick<RecipeChange, 'paper'> {
  if (from === undefined && to === undefined) return {};
  if (from === undefined || to === undefined)
    throw new UsageError('give both --from and --to, such as --from 18x24cm --to 30x40cm');
  const sizes = {
    from: readOption('--from', from, readPrintSize),
    to: readOption('--to', to, readPrintSize),
  };
  return {
    paper: { ...sizes, ...(negative && { negative: readOption('--negative', negative, readPrintSize) }) },
  };
}

/** `3:4.5`, or only `4.5` where the recipe knows what was before. */
function pair<Value>(
  option: string,
  text: string,
  read: (option: string, text: string) => Value,
): { from?: Value; to: Value } {
  const [first = '', second, ...more] = text.split(':');
  if (more.length > 0)
    throw new UsageError(`${option}: '${text}' has more than one colon; write it as from:to, such as 3:4.5`);
  return second === undefined
    ? { to: read(option, first) }
    : { from: read(option, first), to: read(option, second) };
}

function wholePair(option: string, text: string): { from: number; to: number } {
  const { from, to } = pair(option, text, positive);
  if (from === undefined) throw new UsageError(`${option}: write both speeds, such as 200:250`);
  return { from, to };
}

function positive(option: string, text: string): number {
  const value = /^\s*\d+(\.\d+)?\s*(mm)?\s*$/.test(text) ? Number.parseFloat(text) : 0;
  if (value > 0) return value;
  throw new UsageError(`${option}: '${text}' is not a number above 0`);
}

function words({ beforeMs, baseMs, stops, factor, reasons, cautions }: Rescaled): string {
  const sign = stops < 0 ? '' : '+';
  const lines = [
    table(
      [{ head: 'factor', align: 'right' }, { head: 'stops', align: 'right' }, { head: 'because' }],
      reasons.map((reason) => [
        reason.factor.toFixed(4),
        `${reason.stops < 0 ? '' : '+'}${reason.stops.toFixed(3)}`,
        reason.because,
      ]),
    ),
    '',
    `base ${seconds(beforeMs)} to ${seconds(baseMs)}: x ${factor.toFixed(4)}, ${sign}${stops.toFixed(3)} stop`,
    ...adviceLines(cautions),
  ];
  return lines.map((line) => cleanText(line, 'lines')).join('\n');
}
