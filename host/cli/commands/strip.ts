import type { Command } from 'commander';
import { limits } from '../../../shared-protocol/limits.js';
import { stripAdvice } from '../../advice/advice.js';
import { loadPlanner, PlanError, type StripPlan, type StripRequest } from '../../planner/index.js';
import { formatStops, readStops } from '../../recipe/stop-text.js';
import { readTime } from '../../recipe/time-text.js';
import { examples, jsonOption, lagOption, riseOption } from '../options.js';
import { readCount, readLamp, readOption } from '../read-options.js';
import { adviceLines } from '../terminal/advice-lines.js';
import { counted, hundredths, seconds } from '../terminal/figures.js';
import { print, printJson } from '../terminal/print.js';
import { table } from '../terminal/table.js';
import { UsageError } from '../usage-error.js';

interface StripOptions {
  readonly first: string;
  readonly step: string;
  readonly patches: string;
  readonly equalSeconds?: true;
  readonly separate?: true;
  readonly lag: string;
  readonly rise: string;
  readonly json?: true;
}

export function define(command: Command): void {
  command
    .requiredOption('--first <time>', 'what the lightest patch gets')
    .requiredOption('--step <stops>', 'from patch to patch: in stops, or as a time with --equal-seconds')
    .requiredOption('--patches <count>', `how many patches, 2 to ${limits.stripPatches}`)
    .option('--equal-seconds', 'each patch gets the same time more, and you are told what that is in stops')
    .option('--separate', 'expose each patch alone; otherwise all of them first, then ever fewer')
    .addOption(lagOption())
    .addOption(riseOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'treadle strip --first 5s --step 1/2 --patches 5',
        'treadle strip --first 5s --step 5s --patches 5 --equal-seconds --separate',
      ),
    )
    .action(strip);
}

function strip(options: StripOptions): void {
  const request = requestOf(options);
  const plan = planned(request);
  const advice = stripAdvice(plan);
  if (options.json) {
    printJson({ ...plan, advice });
    return;
  }
  const parts = [heading(request), patchTable(request, plan), exposureTable(request, plan)];
  print([...parts, ...(advice.length > 0 ? [adviceLines(advice).join('\n')] : [])].join('\n\n'));
}

function requestOf(options: StripOptions): StripRequest {
  const step = options.equalSeconds
    ? { equalMs: readOption('--step', options.step, readTime) }
    : { stops120: readOption('--step', options.step, readStops) };
  return {
    firstMs: readOption('--first', options.first, readTime),
    step,
    patches: readCount('--patches', options.patches, 2, limits.stripPatches),
    cover: options.separate ? 'separate' : 'cumulative',
    lamp: readLamp(options),
  };
}

function planned(request: StripRequest): StripPlan {
  try {
    return loadPlanner().planStrip(request);
  } catch (error) {
    if (!(error instanceof PlanError)) throw error;
    const exposure = error.figures.pass === undefined ? '' : `, exposure ${error.figures.pass + 1}`;
    throw new UsageError(`this strip cannot be exposed${exposure}: ${error.message}; ${error.wayOut}`);
  }
}

function heading({ firstMs, step, patches, cover }: StripRequest): string {
  const by = 'stops120' in step ? `${formatStops(step.stops120)} stop` : seconds(step.equalMs);
  return `${counted(patches, 'patch', 'patches')} from ${seconds(firstMs)} in steps of ${by}, ${cover}`;
}

function patchTable({ step }: StripRequest, { patches }: StripPlan): string {
  const columns = ['patch', 'dose', 'stops'].map((head) => ({ head, align: 'right' }) as const);
  if ('stops120' in step)
    return table(
      columns,
      patches.map(({ patch, doseMs, stops120 }) => [`${patch}`, seconds(doseMs), formatStops(stops120)]),
    );
  const between = (from: number, to: number) =>
    hundredths(loadPlanner().stopsBetween100(patches[from]!.doseMs, patches[to]!.doseMs));
  return table(
    [...columns, { head: 'stops from the patch before', align: 'right' }],
    patches.map(({ patch, doseMs }, at) => [
      `${patch}`,
      seconds(doseMs),
      between(0, at),
      at === 0 ? '' : between(at - 1, at),
    ]),
  );
}

function exposureTable({ cover, patches }: StripRequest, { exposures }: StripPlan): string {
  const reached = (order: number) =>
    cover === 'separate' || order === patches ? `${order}` : `${order} to ${patches}`;
  return table(
    [
      { head: 'exposure', align: 'right' },
      { head: 'of patches' },
      { head: 'dose', align: 'right' },
      { head: 'lamp on', align: 'right' },
    ],
    exposures.map(({ order, doseMs, onMs }) => [`${order}`, reached(order), seconds(doseMs), seconds(onMs)]),
  );
}
