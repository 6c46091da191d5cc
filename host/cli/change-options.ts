import { type Command, Option } from 'commander';
import { type ApertureScale, readAperture } from '../darkroom/optics/aperture.js';
import type { RecipeChange } from '../daylight/revise/revise.js';
import { readPrintSize } from '../recipe/print-size.js';
import { readOption } from './read-options.js';
import { UsageError } from './usage-error.js';

/** Another size, lens stop or paper speed, as it is typed. */
export interface ChangeOptions {
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

export function addChangeOptions(command: Command): Command {
  return command
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
    .option('--paper-speed <from:to>', 'ISO P of the papers, such as 200:250');
}

export function changeFrom(options: ChangeOptions): RecipeChange {
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
function refuseWithout(options: ChangeOptions): void {
  const { from, to, columnHeight, magnification, aperture } = options;
  const papers = from ?? to;
  const needs: [keyof ChangeOptions, string, string | undefined][] = [
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

function paperChange({ from, to, negative }: ChangeOptions): Pick<RecipeChange, 'paper'> {
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
