import { type Command, Option } from 'commander';
import { stoppedDownAperture10 } from '../../darkroom/optics/stopped-down.js';
import { Paper } from '../../darkroom/paper/paper.js';
import { sideBySide } from '../../darkroom/picture/side-by-side.js';
import { measuredWords } from '../../daylight/papers/measured-filters.js';
import { hundredths } from '../../figures.js';
import type { Recipe } from '../../recipe/index.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { type PrintChange, printChanges } from '../../records/again/print-changes.js';
import type { PrintedSheet } from '../../records/again/printed-sheet.js';
import { recipeAgain } from '../../records/again/recipe-again.js';
import { sheetNamed } from '../../records/again/sheet-name.js';
import type { ArchiveReader, SheetRemark } from '../../records/archive/archive.js';
import { readArchive } from '../../records/archive/read-archive.js';
import { remarkWords } from '../../records/log/sheet-notes.js';
import { withCutLight } from '../cut-light.js';
import { archiveOption, cutOption, examples, forceOption, jsonOption, SHEET_WORDS } from '../options.js';
import { developerOption, filtersOf, paperInUse, paperOption } from '../paper-in-use.js';
import { negativeFor, type ScanOptions, showPicture } from '../pictures.js';
import { cleanText } from '../terminal/clean-text.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { checkIsNoSource, checkNewFile, checkPngName, writeNewFile } from '../write-new-file.js';

interface CompareOptions extends ScanOptions {
  readonly output?: string;
  readonly force?: true;
  readonly paper?: string;
  readonly developer?: string;
  readonly cut?: string;
  readonly archive?: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .argument('<first>', SHEET_WORDS)
    .argument('<second>', 'the print to compare with it, likewise')
    .option('-o, --output <file>', 'picture of both side by side to write, its name ending in .png')
    .option('--scan <picture>', 'scan of the negative; by default the negative of the demonstration')
    .addOption(
      new Option(
        '--scan-is <what>',
        "whether the scan shows a negative or a positive; by default as the first recipe's framing says",
      ).choices(['negative', 'positive']),
    )
    .addOption(paperOption())
    .addOption(developerOption())
    .addOption(cutOption())
    .addOption(forceOption())
    .addOption(archiveOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle compare 2027-03-05/6 2027-03-05/7',
        'treadle compare 6 7 --scan 07-12.png --output both.png',
      ),
    )
    .action(compare);
}

async function compare(first: string, second: string, options: CompareOptions): Promise<void> {
  if (options.output !== undefined) {
    checkPngName(options.output, '--output');
    await checkNewFile(options.output, options.force === true);
    await checkIsNoSource(options.output, [options.scan]);
  }
  await using archive = await readArchive(options.archive);
  const one = await printOf(archive, first, options);
  const other = await printOf(archive, second, options);
  const changes = printChanges(loadPlanner(), one.recipe, other.recipe);
  const remarks = { first: one.remarks, second: other.remarks };
  if (options.json) printJson({ first: one.recipe, second: other.recipe, changes, remarks });
  else {
    const [left, right] = isSameSheet(one.sheet, other.sheet)
      ? [first, `${second} (the same)`]
      : [first, second];
    print(cleanText(words(left, right, changes), 'lines'));
    for (const [name, said] of [[left, one.remarks] as const, [right, other.remarks] as const])
      for (const line of said) print(cleanText(`${name}: ${remarkWords(line)}`));
  }
  await picture(one.recipe, other.recipe, options);
}

interface Print {
  readonly recipe: Recipe;
  readonly remarks: readonly SheetRemark[];
  readonly sheet: PrintedSheet;
}

function isSameSheet(one: PrintedSheet, other: PrintedSheet): boolean {
  return one.board === other.board && one.log === other.log && one.seq === other.seq;
}

/** A print as it was given, with its lens as it then was. */
async function printOf(archive: ArchiveReader, name: string, options: CompareOptions): Promise<Print> {
  const sheet = await sheetNamed(archive, name);
  const kept = await archive.recipes(sheet.recipe);
  const { recipe, unknown, stoppedDown } = await withCutLight(options, (given) =>
    recipeAgain(loadPlanner(), sheet, kept, given),
  );
  for (const lacking of unknown) remark(cleanText(`${name}: ${lacking}.`));
  const aperture10 = stoppedDownAperture10(recipe.aperture10, stoppedDown);
  return { recipe: { ...recipe, aperture10 }, remarks: sheet.remarks, sheet };
}

function words(first: string, second: string, changes: readonly PrintChange[]): string {
  const changed = ({ stops100 }: PrintChange) =>
    stops100 === undefined ? '' : stops100 === 0 ? 'same' : `${hundredths(stops100)} stop`;
  return table(
    [
      { head: '' },
      { head: first, align: 'right' },
      { head: second, align: 'right' },
      { head: 'change', align: 'right' },
    ],
    changes.map((one) => [one.what, one.first, one.second, changed(one)]),
  );
}

/** Both on one enlarger, on which the base of the first is right: what differs in the pictures differed in the light. */
async function picture(one: Recipe, other: Recipe, options: CompareOptions): Promise<void> {
  const isAsked = options.output !== undefined || (process.stdout.isTTY === true && !options.json);
  if (!isAsked) return;
  const darkroom = await import('../../darkroom/index.js');
  const { figures, measured } = await paperInUse(options, one.paper);
  const film = { negative: await negativeFor(options, one.framing), paper: new Paper(figures) };
  const planner = loadPlanner();
  const enlarger = darkroom.enlargerOfRightPrint(one, planner.planRecipe(one), film);
  const [left, right] = [one, other].map((recipe) =>
    darkroom.previewPrint(recipe, planner.planRecipe(recipe), { ...film, enlarger }),
  );
  const both = sideBySide(left!.picture, right!.picture);
  if (options.output !== undefined)
    await writeNewFile(options.output, await darkroom.printPng(both), options.force === true);
  if (!options.json) await showPicture(both);
  const unplaced = [...new Set([...left!.unplaced, ...right!.unplaced])];
  if (unplaced.length > 0)
    remark(cleanText(`Not in the pictures, because no shape is known: ${unplaced.join(', ')}.`));
  if (options.output !== undefined)
    remark(`The picture is in ${options.output}: the first print on the left.`);
  if (measured !== undefined)
    for (const line of measuredWords(measured, [one, other].flatMap(filtersOf))) remark(cleanText(line));
}
