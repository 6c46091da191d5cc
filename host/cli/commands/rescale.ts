import type { Command } from 'commander';
import { otherPaper } from '../../daylight/papers/other-paper.js';
import type { Rescaled } from '../../daylight/rescale.js';
import { rescaleRecipe } from '../../daylight/revise/revise.js';
import { InputError } from '../../errors.js';
import { seconds } from '../../figures.js';
import type { Recipe } from '../../recipe/index.js';
import { addChangeOptions, type ChangeOptions, changeFrom } from '../change-options.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import { archiveOption, examples, forceOption, jsonOption, outputOption } from '../options.js';
import { measuredNamed } from '../paper-in-use.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { adviceLines } from '../terminal/advice-lines.js';
import { cleanText } from '../terminal/clean-text.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';

interface RescaleOptions extends NewVersionOptions, ChangeOptions {
  readonly toPaper?: string;
  readonly fromPaper?: string;
  readonly archive?: string;
}

export function define(command: Command): void {
  addChangeOptions(command.argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS))
    .option(
      '--to-paper <paper>',
      "another paper, as 'treadle paper' lists it: by the speeds that were measured",
    )
    .option('--from-paper <paper>', 'the paper before; by default the one that the recipe names')
    .addOption(archiveOption())
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle rescale boathouse.json --magnification 5:8 --aperture f/8:f/5.6',
        'treadle rescale boathouse.json --to-paper "Pearl"',
        'treadle rescale boathouse.json --from 18x24cm --to 30x40cm -o boathouse-large.json',
      ),
    )
    .action(rescale);
}

async function rescale(path: string, options: RescaleOptions): Promise<void> {
  const recipe = await readRecipeFile(path);
  const papers = await otherPaperOf(recipe, options);
  const change = { ...changeFrom(options), ...papers?.change };
  const { recipe: changed, account } = rescaleRecipe(recipe, change, new Date());
  const measured = (papers?.words ?? []).map((line) => cleanText(line));
  await tellNewVersion(
    changed,
    { words: [words(account), ...measured].join('\n'), data: { ...account, ...papers?.data } },
    options,
  );
}

/** The speeds of both papers, measured through the filter of the base. */
async function otherPaperOf(recipe: Recipe, { toPaper, fromPaper, archive, paperSpeed }: RescaleOptions) {
  if (toPaper === undefined && fromPaper === undefined) return undefined;
  if (toPaper === undefined) throw new UsageError('--from-paper goes with --to-paper');
  if (paperSpeed !== undefined) throw new UsageError('give --to-paper or --paper-speed, not both');
  const before = fromPaper ?? recipe.paper;
  if (before === '')
    throw new UsageError('the recipe names no paper; say by --from-paper what it was printed on');
  const options = archive === undefined ? {} : { archive };
  const from =
    fromPaper === undefined
      ? await measuredOfRecipe(before, options)
      : await measuredNamed('--from-paper', before, options);
  const to = await measuredNamed('--to-paper', toPaper, options);
  const base = recipe.passes.find(({ kind }) => kind === 'base')!;
  const { speedP, factor, words } = otherPaper(from, to, base.filter);
  return { change: { paperSpeedP: speedP, paperName: to.paper }, words, data: { paperFactor: factor } };
}

async function measuredOfRecipe(paper: string, options: { readonly archive?: string }) {
  try {
    return await measuredNamed("the recipe's paper", paper, options);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new UsageError(
      `${error.message}; the recipe names '${paper}': say another by --from-paper, or give both speeds by --paper-speed`,
    );
  }
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
