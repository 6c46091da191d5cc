import type { Advice } from '../daylight/advice.js';
import { filterText } from '../daylight/filters/filter-table.js';
import { counted, hundredths, seconds } from '../figures.js';
import { loadPlanner, PlanError, type StripPlan, type StripRequest } from '../recipe/planner/index.js';
import { formatStops } from '../recipe/text/stop-text.js';
import { adviceLines } from './terminal/advice-lines.js';
import { table } from './terminal/table.js';
import { UsageError } from './usage-error.js';

/** What a strip comes to on the board: every patch and every exposure, and what to mind. */
export function stripAccount(request: StripRequest, plan: StripPlan, advice: readonly Advice[]): string {
  const parts = [heading(request), patchTable(request, plan), exposureTable(request, plan)];
  return [...parts, ...(advice.length > 0 ? [adviceLines(advice).join('\n')] : [])].join('\n\n');
}

/** @throws UsageError for a strip that cannot be exposed */
export function plannedStrip(request: StripRequest): StripPlan {
  try {
    return loadPlanner().planStrip(request);
  } catch (error) {
    if (!(error instanceof PlanError)) throw error;
    const exposure = error.figures.pass === undefined ? '' : `, exposure ${error.figures.pass + 1}`;
    throw new UsageError(`this strip cannot be exposed${exposure}: ${error.message}; ${error.wayOut}`);
  }
}

const coverWords = { cumulative: 'covered one by one', separate: 'each exposed alone' } as const;

function heading({ firstMs, step, patches, cover, filter = '' }: StripRequest): string {
  const by = 'stops120' in step ? `${formatStops(step.stops120)} stop` : seconds(step.equalMs);
  return `${counted(patches, 'patch', 'patches')} from ${seconds(firstMs)} in steps of ${by}, ${coverWords[cover]}${filter === '' ? '' : `, ${filterText(filter)}`}`;
}

function patchTable({ step }: StripRequest, { patches }: StripPlan): string {
  const columns = ['patch', 'light', 'stops'].map((head) => ({ head, align: 'right' }) as const);
  if ('stops120' in step)
    return table(
      columns,
      patches.map(({ patch, doseMs, stops120 }) => [`${patch}`, seconds(doseMs), formatStops(stops120)]),
    );
  const between = (from: number, to: number) =>
    hundredths(loadPlanner().stopsBetween100(patches[from]!.doseMs, patches[to]!.doseMs));
  return table(
    [...columns, { head: 'stops from the last', align: 'right' }],
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
      { head: 'patches' },
      { head: 'light', align: 'right' },
      { head: 'lamp on', align: 'right' },
    ],
    exposures.map(({ order, doseMs, onMs }) => [`${order}`, reached(order), seconds(doseMs), seconds(onMs)]),
  );
}
