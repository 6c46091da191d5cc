import type { Command } from 'commander';
import { dryDownFromMatch, dryDownSheet, dryDownSheetRecipe } from '../../daylight/dry-down.js';
import { dryDownRecipe } from '../../daylight/revise/revise.js';
import { seconds } from '../../figures.js';
import { dryDownStops } from '../../recipe/dry-down.js';
import { formatDryDown10, readExposure, UnreadableText } from '../../recipe/index.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { readDryDown10 } from '../../recipe/text/dry-down-text.js';
import { openArchive } from '../../records/archive/file-archive.js';
import { sendRecipe } from '../../records/recipes/send-recipe.js';
import { type BoardOptions, withBoardThroughLosses } from '../board-session.js';
import { type NewVersionOptions, tellNewVersion } from '../new-version.js';
import {
  archiveOption,
  asNextOption,
  examples,
  forceOption,
  jsonOption,
  outputOption,
  portOption,
  traceOption,
} from '../options.js';
import { readOption } from '../read-options.js';
import { readRecipeFile } from '../read-recipe-file.js';
import { tellSent } from '../tell-sent.js';
import { print, printJson, remark } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';

interface DryDownOptions extends NewVersionOptions, BoardOptions {
  readonly sheet?: string;
  readonly matched?: string;
  readonly percent?: string;
  readonly filter?: string;
  readonly send?: true;
  readonly asNext?: true;
  readonly archive?: string;
}

export function define(command: Command): void {
  command
    .argument('[recipe]', 'recipe file whose dry-down is to be set')
    .option('--sheet <base>', 'list the exposures of a test sheet for this base')
    .option('--matched <patch>', 'the dry patch that looks as patch 1 looked wet; 2.5 is between 2 and 3')
    .option('--percent <figure>', 'use this figure, such as 8%')
    .option('--filter <filter>', 'filter of the test sheet; by default none')
    .option('--send', 'send the test sheet to the board, as a recipe with a pass for each patch')
    .addOption(asNextOption())
    .addOption(archiveOption())
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(outputOption())
    .addOption(forceOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle dry-down --sheet 10s --filter 2 --send',
        'treadle dry-down --matched 4',
        'treadle dry-down boathouse.json --matched 4 -o boathouse-dry.json',
      ),
    )
    .action(dryDown);
}

async function dryDown(path: string | undefined, options: DryDownOptions): Promise<void> {
  if (options.sheet !== undefined) {
    const baseMs = readOption('--sheet', options.sheet, readExposure);
    tellSheet(baseMs, options);
    if (options.send) await sendSheet(baseMs, options);
    return;
  }
  const figure10 = figureOf(options);
  const words = `dry-down ${formatDryDown10(figure10)}: ${dryDownStops(figure10).toFixed(3)} stop on every exposure`;
  const data = { dryDown10: figure10, stops: dryDownStops(figure10) };
  if (path !== undefined)
    await tellNewVersion(
      dryDownRecipe(await readRecipeFile(path), figure10, new Date()),
      { words, data },
      options,
    );
  else if (options.json) printJson(data);
  else print(words);
}

async function sendSheet(baseMs: number, options: DryDownOptions): Promise<void> {
  const sheet = dryDownSheetRecipe(baseMs, options.filter ?? '');
  await using archive = await openArchive(options.archive);
  const sent = await withBoardThroughLosses(options, async (board) => ({
    ...(await sendRecipe(archive, board, sheet, { asNext: options.asNext === true })),
    boardId: board.id,
  }));
  tellSent(sent, sent.boardId);
  remark(`Choose '${sheet.name}' with the knob, and cover all but one patch each time.`);
}

function figureOf({ matched, percent }: DryDownOptions): number {
  if (percent !== undefined) return readOption('--percent', percent, readDryDown10);
  if (matched !== undefined) return readOption('--matched', matched, readMatch);
  throw new UsageError('give --sheet for a test sheet, then --matched; or --percent if you know the figure');
}

/** A patch, or a half for one between two. */
function readMatch(text: string): number {
  if (/^\d{1,2}(\.5)?$/.test(text)) return dryDownFromMatch(Number(text));
  throw new UnreadableText(`'${text}' is not a patch; write its number, or 2.5 for one between 2 and 3`);
}

function tellSheet(baseMs: number, { json }: DryDownOptions): void {
  const patches = dryDownSheet(loadPlanner(), baseMs);
  if (json) printJson({ patches });
  else
    print(
      `${table(
        [
          { head: 'patch', align: 'right' },
          { head: 'less', align: 'right' },
          { head: 'light', align: 'right' },
        ],
        patches.map(({ patch, dryDown10, doseMs }) => [
          `${patch}`,
          formatDryDown10(dryDown10),
          seconds(doseMs),
        ]),
      )}\nExpose each patch alone. Remember how patch 1 looks wet; when all are dry, find the patch that looks the\nsame, and give its number with --matched.`,
    );
}
