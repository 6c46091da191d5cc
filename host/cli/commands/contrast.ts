import { type Command, Option } from 'commander';
import {
  baseAfterContrast,
  type ContrastAdvice,
  type ContrastTables,
  contrastAdvice,
  contrastFromStrip,
} from '../../daylight/contrast/contrast.js';
import { neededRangeFromDensities } from '../../daylight/contrast/densitometer.js';
import { filterEntry, filterText } from '../../daylight/filters/filter-table.js';
import { contrastWords } from '../../daylight/revise/account-words.js';
import { readExposure } from '../../recipe/text/time-text.js';
import { archiveOption, examples, filtersOption, jsonOption } from '../options.js';
import {
  developerOption,
  type PaperInUse,
  type PaperInUseOptions,
  paperInUse,
  paperOption,
} from '../paper-in-use.js';
import { readOption } from '../read-options.js';
import { filtersFrom, gradesFrom } from '../read-tables.js';
import { adviceLines } from '../terminal/advice-lines.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';

interface ContrastOptions extends PaperInUseOptions {
  readonly range?: string;
  readonly highlight?: string;
  readonly shadow?: string;
  readonly filter?: string;
  readonly densities?: string;
  readonly light: 'diffusion' | 'condenser';
  readonly image: 'silver' | 'dye';
  readonly flare?: string;
  readonly filters?: string;
  readonly grades?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .option(
      '--range <R>',
      'ISO range R of the paper, through the filter of the strip; not needed with --paper and --filter',
    )
    .option('--highlight <time>', 'exposure that prints the highlights right')
    .option('--shadow <time>', 'exposure that prints the shadows right')
    .option('--filter <filter>', 'filter of the strip; with it you get the new base too')
    .option(
      '--densities <highlight:shadow>',
      'densitometer readings of the negative in place of a strip, such as 1.20:0.25',
    )
    .addOption(
      new Option('--light <kind>', 'how the enlarger lights the negative')
        .choices(['diffusion', 'condenser'])
        .default('diffusion'),
    )
    .addOption(
      new Option('--image <kind>', 'what the image in the negative is made of')
        .choices(['silver', 'dye'])
        .default('silver'),
    )
    .option('--flare <percent>', 'stray light in the enlarger, in per cent of the brightest')
    .addOption(filtersOption())
    .addOption(paperOption())
    .addOption(developerOption())
    .addOption(archiveOption())
    .option(
      '--grades <file>',
      "your own grade table ('treadle schema grades' says how); by default the standard's ranges",
    )
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle contrast --range 110 --highlight 8s --shadow 12s --filter 2',
        'treadle contrast --paper "Pearl" --filter 2 --highlight 8s --shadow 12s',
        'treadle contrast --densities 1.20:0.25 --light condenser',
      ),
    )
    .action(contrast);
}

async function contrast(options: ContrastOptions): Promise<void> {
  const paper = await paperInUse(options);
  const filters = options.filters === undefined ? paper.filters : await filtersFrom(options.filters);
  const tables = { grades: await gradesFrom(options.grades), filters };
  const own = rangeOfPaper(options, paper);
  const { advice, baseMs } =
    options.densities === undefined
      ? fromStrip({ ...options, ...(own && { range: `${own.rangeR}` }) }, tables)
      : fromDensities(options.densities, options, tables);
  if (options.json) printJson({ ...advice, baseMs: baseMs ?? null });
  else {
    const words = [...(own ? [own.words] : []), ...contrastWords(advice, baseMs)];
    print(cleanText([...words, ...adviceLines(advice.cautions)].join('\n'), 'lines'));
  }
}

/** What the paper's own figures say in place of --range. */
function rangeOfPaper(
  { paper, filter, range, densities }: ContrastOptions,
  { filters }: PaperInUse,
): { rangeR: number; words: string } | undefined {
  if (paper === undefined || filter === undefined || range !== undefined || densities !== undefined)
    return undefined;
  const { rangeR } = filterEntry(filters, filter);
  if (rangeR === undefined) return undefined;
  const source = filters.rangeSource?.(filter) ?? `by the file of '${filters.name}'`;
  return { rangeR, words: `The strip's ${filterText(filter)} has R${rangeR}: ${source}.` };
}

interface Told {
  readonly advice: ContrastAdvice;
  readonly baseMs?: number;
}

function fromStrip(options: ContrastOptions, tables: Required<ContrastTables>): Told {
  const { range, highlight, shadow, filter } = options;
  if (range === undefined || highlight === undefined || shadow === undefined)
    throw new UsageError(
      'give --range (or --paper and --filter), --highlight and --shadow from a strip, or --densities',
    );
  const reading = {
    rangeR: number('--range', range),
    highlightMs: readOption('--highlight', highlight, readExposure),
    shadowMs: readOption('--shadow', shadow, readExposure),
  };
  const advice = contrastFromStrip(reading, tables);
  if (filter === undefined || advice.filter === undefined) return { advice };
  return { advice, baseMs: baseAfterContrast(reading, tables.filters, filter, advice.filter.filter) };
}

function fromDensities(text: string, { light, image, flare }: ContrastOptions, tables: ContrastTables): Told {
  const [highlight = '', shadow = ''] = text.split(':');
  const neededR = neededRangeFromDensities({
    highlightDensity: number('--densities', highlight),
    shadowDensity: number('--densities', shadow),
    light,
    image,
    ...(flare !== undefined && { flareShare: number('--flare', flare.replace(/\s*%$/, '')) / 100 }),
  });
  return { advice: contrastAdvice(neededR, tables) };
}

function number(option: string, text: string): number {
  if (/^\s*\d+(\.\d+)?\s*$/.test(text)) return Number(text);
  throw new UsageError(`${option}: '${text}' is not a number`);
}
