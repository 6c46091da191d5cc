import { type Command, Option } from 'commander';
import type { Negative, PreviewSetup, ScanReading } from '../../darkroom/index.js';
import { Paper } from '../../darkroom/paper/paper.js';
import { hasOwnSpeed, measuredWords } from '../../daylight/papers/measured-filters.js';
import { type MeasuredPaper, paperName } from '../../daylight/papers/measured-paper.js';
import { InputError } from '../../errors.js';
import { seconds } from '../../figures.js';
import type { FilmTie } from '../../recipe/film-tie.js';
import { formatStops, type Recipe, readExposure, readRecipe, readStops } from '../../recipe/index.js';
import { loadPlanner, type StripPlan } from '../../recipe/planner/index.js';
import { baseFor } from '../base-for.js';
import { archiveOption, examples, forceOption } from '../options.js';
import {
  developerOption,
  filtersOf,
  measuredNamed,
  type PaperInUseOptions,
  paperInUse,
  paperOption,
} from '../paper-in-use.js';
import { negativeFor, showPicture } from '../pictures.js';
import { readCount, readOption } from '../read-options.js';
import { readOwnFile } from '../read-own-file.js';
import { RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS, readRecipeFile } from '../read-recipe-file.js';
import { cleanText } from '../terminal/clean-text.js';
import { remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';
import { checkIsNoSource, checkNewFile, checkPngName, writeNewFile } from '../write-new-file.js';

interface PreviewOptions extends PaperInUseOptions {
  readonly output: string;
  readonly scan?: string;
  readonly scanIs?: ScanReading['as'];
  readonly right?: string;
  readonly sameLight?: true;
  readonly strip?: string;
  readonly step: string;
  readonly patches: string;
  readonly filter: string;
  readonly force?: true;
}

const MOST_PATCHES = 12;
export function define(command: Command): void {
  command
    .argument(RECIPE_ARGUMENT, RECIPE_ARGUMENT_WORDS)
    .requiredOption('-o, --output <file>', 'picture to write, its name ending in .png')
    .option('--scan <picture>', 'scan of the negative; by default the negative of the demonstration')
    .addOption(
      new Option(
        '--scan-is <what>',
        "whether the scan shows a negative or a positive; by default as the recipe's framing says",
      ).choices(['negative', 'positive']),
    )
    .option(
      '--right <base>',
      'a base of this recipe that was right on paper, such as 12.5s, or the recipe file of a print that was right',
    )
    .addOption(paperOption())
    .option(
      '--same-light',
      "with --paper: in the light that was right on the recipe's own paper; by default in what is right on the other",
    )
    .addOption(developerOption())
    .addOption(archiveOption())
    .option('--strip <first>', 'show a test strip in place of the print, from this first exposure')
    .option('--step <stops>', 'step of the strip', '1/2')
    .option('--patches <count>', 'number of patches', '6')
    .option('--filter <filter>', 'filter of the strip', '2')
    .addOption(forceOption())
    .addHelpText(
      'after',
      examples(
        'treadle preview boathouse.json --scan 07-12.png -o print.png',
        'treadle preview boathouse-2.json --scan 07-12.png --right boathouse.json -o darker.png',
        'treadle preview boathouse.json --paper "Pearl" -o on-pearl.png',
        'treadle preview boathouse.json --strip 5s --step 1/2 --patches 6 -o strip.png',
      ),
    )
    .action(preview);
}

async function preview(path: string, options: PreviewOptions): Promise<void> {
  await mayWrite(options);
  const recipe = await readRecipeFile(path);
  const plan = loadPlanner().planRecipe(recipe);
  const darkroom = await import('../../darkroom/index.js');
  const { figures, measured } = await paperInUse(options, recipe.paper);
  const right = await rightPrint(recipe, options);
  const untied = await negativeFor(options, recipe.framing);
  const negative = options.scan === undefined ? untied : darkroom.tied(untied, right.filmTie);
  const film = { negative, paper: new Paper(figures) };
  const rightPlan = loadPlanner().planRecipe(right);
  const rightFilm = options.sameLight ? { ...film, paper: await ownPaper(recipe, measured, options) } : film;
  const scene: PreviewSetup = {
    ...film,
    enlarger: darkroom.enlargerOfRightPrint(right, rightPlan, rightFilm),
  };
  if (options.strip === undefined) {
    const { picture, unplaced } = darkroom.previewPrint(recipe, plan, scene);
    await write(await darkroom.printPng(picture), options);
    await showPicture(picture);
    if (unplaced.length > 0)
      remark(
        `Not in the picture, because the recipe gives no shape for it: ${cleanText(unplaced.join(', '))}.`,
      );
  } else {
    const strip = stripOf(options.strip, options);
    const lux = darkroom.luxOf(recipe, plan, scene);
    const picture = darkroom.previewStrip(strip, 'cumulative', options.filter, lux, scene);
    await write(await darkroom.stripPng(picture, captionsOf(strip)), options);
    await showPicture(picture);
  }
  const { tie } = negative;
  remark(
    `The picture is in ${options.output}. ${tie === undefined ? brightnessWords(options) : tiedWords(untied, tie, right, recipe)}`,
  );
  const filters = options.strip === undefined ? filtersOf(recipe) : [options.filter];
  if (measured !== undefined) for (const line of measuredWords(measured, filters)) remark(cleanText(line));
}

/** The paper on which the light was right: one beside the other is known only where both speeds were measured. */
async function ownPaper(
  recipe: Recipe,
  on: MeasuredPaper | undefined,
  { archive }: PreviewOptions,
): Promise<Paper> {
  if (on === undefined || recipe.paper === '')
    throw new UsageError(
      '--same-light goes with --paper, for a recipe that names its own paper, both measured',
    );
  const own = await ownMeasured(recipe.paper, archive === undefined ? {} : { archive });
  const without = [own, on].find((paper) => !hasOwnSpeed(paper));
  if (without === undefined) return new Paper(own.figures);
  throw new UsageError(
    `--same-light: how quick ${paperName(without)} is was not measured: read a strip of it with the light on the easel ('treadle paper add --lux')`,
  );
}

async function ownMeasured(paper: string, options: { readonly archive?: string }): Promise<MeasuredPaper> {
  try {
    return await measuredNamed("the recipe's paper", paper, options);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new UsageError(
      `${error.message}; the recipe names '${paper}', and --same-light goes by the paper on which the light was right: read a strip of it, or put its name as it stands there into the recipe`,
    );
  }
}

/** The print whose brightness is known: by its own recipe, or by another base of this one. */
async function rightPrint(recipe: Recipe, { right }: PreviewOptions): Promise<Recipe> {
  if (right === undefined) return recipe;
  if (/^\d/.test(right) && !right.endsWith('.json'))
    return { ...recipe, filmTie: undefined, baseMs: readOption('--right', right, readExposure) };
  return readOwnFile(right, '--right', readRecipe);
}

/** What base the middle of this negative needs, before its first strip. */
function tiedWords(negative: Negative, tie: FilmTie, right: Recipe, recipe: Recipe): string {
  const { low, value, high } = baseFor(negative, tie, right, recipe);
  const time = (stops: number) => seconds(Math.round(2 ** stops));
  return (
    `The middle of this negative comes to 0.60 above white with a base of ${time(value)}, ${time(low)} to ${time(high)} in 95 of 100 cases, ` +
    `through ${tie.filter === '' ? 'no filter' : `filter ${cleanText(tie.filter)}`}: a strip about it confirms that. ` +
    `Tone and base follow from the strip that '${cleanText(right.title)}' keeps, and suppose the enlarger, paper and developer of that strip and a scan made as its was.`
  );
}

function brightnessWords({ scan, right }: PreviewOptions): string {
  const negative =
    scan === undefined
      ? 'It is of the invented negative of the demonstration: give --scan for your own. '
      : '';
  const brightness =
    right === undefined
      ? "Its brightness supposes that the recipe's base is right: --right tells a base that was."
      : `Its brightness follows from ${right}, which was right.`;
  return negative + brightness;
}

/** Nothing is worked out that could not be written in the end. */
async function mayWrite({ output, force, scan }: PreviewOptions): Promise<void> {
  checkPngName(output, '--output');
  await checkNewFile(output, force === true);
  await checkIsNoSource(output, [scan]);
}

function write(png: Uint8Array, { output, force }: PreviewOptions): Promise<void> {
  return writeNewFile(output, png, force === true);
}

function stripOf(first: string, { step, patches }: PreviewOptions): StripPlan {
  return loadPlanner().planStrip({
    firstMs: readOption('--strip', first, readExposure),
    step: { stops120: readOption('--step', step, readStops) },
    patches: readCount('--patches', patches, 2, MOST_PATCHES),
    cover: 'cumulative',
  });
}

function captionsOf({ patches }: StripPlan) {
  const share = 100 / patches.length;
  return patches.map(({ doseMs, stops120 }, at) => ({
    fromPercent: at * share,
    toPercent: (at + 1) * share,
    lines: [`${(doseMs / 1000).toFixed(1)} s`, formatStops(stops120)],
  }));
}
