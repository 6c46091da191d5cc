import { type Command, Option } from 'commander';
import { limits } from '../../../shared-protocol/limits.js';
import { stripAdvice } from '../../daylight/advice.js';
import { loadPlanner, type StripRequest } from '../../recipe/planner/index.js';
import { readField } from '../../recipe/reading/read-field.js';
import { filterName } from '../../recipe/recipe-file.js';
import { readStrip, stripSettings } from '../../recipe/strip-file.js';
import { readStops } from '../../recipe/text/stop-text.js';
import { isTime, readExposure } from '../../recipe/text/time-text.js';
import { UnreadableText } from '../../recipe/text/unreadable-text.js';
import { type BoardOptions, withBoard } from '../board-session.js';
import { examples, jsonOption, lagOption, portOption, riseOption, traceOption } from '../options.js';
import { readCount, readLamp, readOption } from '../read-options.js';
import { readOwnFile } from '../read-own-file.js';
import { plannedStrip, stripAccount } from '../strip-account.js';
import { print, printJson, remark } from '../terminal/print.js';
import { UsageError } from '../usage-error.js';

interface StripOptions extends BoardOptions {
  readonly file?: string;
  readonly first?: string;
  readonly step?: string;
  readonly patches?: string;
  readonly equalSeconds?: true;
  readonly separate?: true;
  readonly filter?: string;
  readonly lag: string;
  readonly rise: string;
  readonly send?: true;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .option('--first <time>', 'exposure of the lightest patch')
    .option('--step <stops>', 'from one patch to the next: in stops, or as a time with --equal-seconds')
    .option('--patches <count>', `number of patches, 2 to ${limits.stripPatches}`)
    .option('--equal-seconds', 'make every step the same time; the table shows what that is in stops')
    .option(
      '--separate',
      'expose each patch alone; by default the first exposure is for all patches, and each next one for one patch less',
    )
    .option('--filter <filter>', 'the filter under the enlarger, for panel and log; it changes no time')
    .addOption(
      new Option('--file <file>', 'read the strip from a file instead of the options above').conflicts([
        'first',
        'step',
        'patches',
        'equalSeconds',
        'separate',
      ]),
    )
    .option(
      '--send',
      'send it to the board, to be started with the pedal; the board uses the lag and rise of its own settings',
    )
    .addOption(portOption())
    .addOption(traceOption())
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle strip --first 5s --step 1/2 --patches 5',
        'treadle strip --first 5s --step 5s --patches 5 --equal-seconds --separate',
        'treadle strip --file wide.json --send',
        'treadle strip --filter 2 --send   # the strip that an evening begins with, through filter 2',
      ),
    )
    .action(strip);
}

async function strip(options: StripOptions): Promise<void> {
  const request = { ...(await requestOf(options)), lamp: readLamp(options) };
  const plan = plannedStrip(request);
  const advice = stripAdvice(plan);
  if (options.json) printJson({ ...plan, advice });
  else print(stripAccount(request, plan, advice));
  if (options.send) await send(request, options);
}

async function send(request: StripRequest, options: StripOptions): Promise<void> {
  const id = await withBoard(options, async (board) => {
    await board.setStrip(stripSettings(request));
    return board.id;
  });
  remark(`The strip is on board ${id}: the pedal starts it.`);
}

async function requestOf(options: StripOptions): Promise<StripRequest> {
  const strip = await stripOf(options);
  if (options.filter === undefined) return strip;
  const filter = readOption('--filter', options.filter, (text) => readField(filterName, text.trim()));
  return { ...strip, filter };
}

async function stripOf(options: StripOptions): Promise<StripRequest> {
  if (options.file !== undefined) return readOwnFile(options.file, '--file', readStrip);
  if (isUsual(options)) return loadPlanner().usualStrip();
  const step = needed('--step', options.step);
  return {
    firstMs: readOption('--first', needed('--first', options.first), readExposure),
    step: options.equalSeconds
      ? { equalMs: readOption('--step', step, readExposure) }
      : { stops120: readOption('--step', step, readStepStops) },
    patches: readCount('--patches', needed('--patches', options.patches), 2, limits.stripPatches),
    cover: options.separate ? 'separate' : 'cumulative',
  };
}

/** @throws UnreadableText that names the option for steps of time where a time was given. */
function readStepStops(text: string): number {
  if (isTime(text))
    throw new UnreadableText(
      `'${text}' is a time; add --equal-seconds for steps of the same time, or write stops, such as 1/2`,
    );
  return readStops(text);
}

/** Nothing was asked for but what any strip can have. */
function isUsual({ first, step, patches, equalSeconds, separate }: StripOptions): boolean {
  return [first, step, patches, equalSeconds, separate].every((option) => option === undefined);
}

function needed(option: string, text: string | undefined): string {
  if (text !== undefined) return text;
  throw new UsageError(
    `${option} is missing: give --first, --step and --patches, or --file, or none of them for the usual strip`,
  );
}
