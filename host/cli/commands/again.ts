import { type Command, Option } from 'commander';
import { stoppedDownAperture10 } from '../../darkroom/optics/stopped-down.js';
import { rescaleRecipe } from '../../daylight/revise/revise.js';
import { seconds } from '../../figures.js';
import { formatAperture10, formatStops, type Recipe, writeRecipe } from '../../recipe/index.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { passWords } from '../../recipe/recipe-differences.js';
import { type AgainAsVersion, againAsVersion } from '../../records/again/again-as-version.js';
import { type RecipeAgain, recipeAgain } from '../../records/again/recipe-again.js';
import { sheetNamed } from '../../records/again/sheet-name.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { type Sent, sendRecipe } from '../../records/recipes/send-recipe.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { addChangeOptions, type ChangeOptions, changeFrom } from '../change-options.js';
import { withCutLight } from '../cut-light.js';
import {
  archiveOption,
  asNextOption,
  cutOption,
  examples,
  forceOption,
  jsonOption,
  outputOption,
  portOption,
  SHEET_WORDS,
  traceOption,
} from '../options.js';
import { tellSent } from '../tell-sent.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { checkNewFile, writeNewFile } from '../write-new-file.js';

interface AgainOptions extends BoardOptions, ChangeOptions {
  readonly paper?: string;
  readonly cut?: string;
  readonly send?: true;
  readonly asNext?: true;
  readonly output?: string;
  readonly force?: true;
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  addChangeOptions(command.argument('<sheet>', SHEET_WORDS))
    .option('--paper <words>', 'the paper that it was printed on')
    .addOption(cutOption())
    .addOption(new Option('--send', 'send the recipe to the board'))
    .addOption(asNextOption())
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(outputOption('file for the recipe'))
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle again last --output boathouse-again.json',
        'treadle again 2027-03-05/7 --aperture f/8 --magnification 4.5:6 --send',
      ),
    )
    .action(printAgain);
}

async function printAgain(name: string, options: AgainOptions): Promise<void> {
  if (options.output !== undefined) await checkNewFile(options.output, options.force === true);
  const made = await recipeOf(name, options);
  const sent = options.send === undefined ? undefined : await send(made, options);
  const { again } = made;
  const now = sent?.recipe ?? made.recipe;
  if (options.output !== undefined)
    await writeNewFile(options.output, writeRecipe(now), options.force === true);
  if (options.json) {
    const { differences, unknown } = again;
    printJson({ differences, unknown, recipe: JSON.parse(writeRecipe(now)) });
  } else print(words(again, now));
  if (sent !== undefined) tellSent(sent, sent.boardId);
  if (options.output !== undefined) remark(`'${now.name}' version ${now.version} is in ${options.output}.`);
  else if (sent === undefined && !options.json)
    remark('Nothing was written. Add --output FILE to write the recipe, or --send.');
}

interface Made extends AgainAsVersion {
  readonly again: RecipeAgain;
}

async function recipeOf(name: string, options: AgainOptions): Promise<Made> {
  await using archive = await readArchive(options.archive);
  const sheet = await sheetNamed(archive, name);
  const own = await archive.recipes(sheet.recipe);
  const again = await withCutLight(options, (given) => recipeAgain(loadPlanner(), sheet, own, given));
  const recipe = changedSize(asTold(again, options), options);
  return { again, ...againAsVersion(recipe, again, sheet, await archive.recipes(recipe.name)) };
}

/** What the printer says of lens, size and paper, and the stops by which the lens was closed that evening. */
function asTold({ recipe, stoppedDown }: RecipeAgain, options: AgainOptions): Recipe {
  const { aperture, magnification } = changeFrom({
    ...(options.aperture && { aperture: beforeColon(options.aperture) }),
    ...(options.magnification && { magnification: beforeColon(options.magnification) }),
    ...(options.apertureScale && { apertureScale: options.apertureScale }),
  });
  return {
    ...recipe,
    aperture10: aperture
      ? Math.round(aperture.to.marked * 10)
      : stoppedDownAperture10(recipe.aperture10, stoppedDown),
    magnification1000: magnification ? Math.round(magnification.to * 1000) : recipe.magnification1000,
    paper: options.paper ?? recipe.paper,
  };
}

function beforeColon(text: string): string {
  return text.split(':')[0]!;
}

/** Told with a colon, as from:to, lens and size are not only told but changed. */
function changedSize(recipe: Recipe, options: AgainOptions): Recipe {
  const { aperture, apertureScale, magnification, ...others } = options;
  const changes = {
    ...others,
    ...(aperture?.includes(':') && { aperture, ...(apertureScale && { apertureScale }) }),
    ...(magnification?.includes(':') && { magnification }),
  };
  const change = changeFrom(changes);
  return Object.keys(change).length === 0 ? recipe : rescaleRecipe(recipe, change, new Date()).recipe;
}

async function send(
  { recipe, isNew }: Made,
  options: AgainOptions,
): Promise<Sent & { readonly boardId: string }> {
  await using archive = await openArchive(options.archive);
  return await withBoardThroughLosses(options, async (board) => {
    const asNext = isNew || options.asNext === true;
    return { ...(await sendRecipe(archive, board, recipe, { asNext })), boardId: board.id };
  });
}

function words({ differences, unknown }: RecipeAgain, recipe: Recipe): string {
  const rows = recipe.passes.flatMap((pass) => [
    [passWords(pass), pass.filter, formatStops(pass.stops120)],
    ...pass.dodges.map(({ label, stops120 }) => [`  dodge ${label}`, '', formatStops(stops120)]),
  ]);
  const lens = recipe.aperture10 === 0 ? '' : `, ${formatAperture10(recipe.aperture10)}`;
  const lines = [
    `${recipe.title}: base ${seconds(recipe.baseMs)}${lens}`,
    table([{ head: 'pass' }, { head: 'filter' }, { head: 'stops', align: 'right' }], rows),
    ...(unknown.length > 0 ? [`Not known: ${unknown.join('; ')}.`] : []),
    ...(unknown.length === 0 || differences.length > 0 ? [givenWords(differences)] : []),
  ];
  return lines.map((line) => cleanText(line, 'lines')).join('\n');
}

function givenWords(differences: readonly string[]): string {
  return differences.length === 0
    ? 'It was given as planned.'
    : `As it was given, against the recipe: ${differences.join('; ')}.`;
}
