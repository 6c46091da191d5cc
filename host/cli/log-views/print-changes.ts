import { hundredths } from '../../figures.js';
import { nightRows } from '../../pages/night/night-rows.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import type { ExposureEntry, LogEntry } from '../../records/log/log-entry.js';
import { isExposure } from '../../records/log/log-entry.js';

/**
 * What changed from each print to the next of the same recipe, pass by pass, in stops of what was planned:
 * the core says how many stops lie between two times.
 */
export function printChanges(entries: readonly LogEntry[]): string[] {
  const before = new Map<string, readonly Printed[]>();
  const lines: string[] = [];
  for (const row of nightRows(entries.filter(isExposure))) {
    if (row.kind !== 'print') continue;
    const printed = row.lights.map(printedOf);
    const recipe = row.lights[0]!.recipe;
    const changes = changesBetween(before.get(recipe) ?? [], printed);
    if (changes.length > 0) lines.push(`${row.title} against the one before: ${changes.join(', ')}.`);
    before.set(recipe, printed);
  }
  return lines;
}

interface Printed {
  readonly what: string;
  readonly plannedMs: number;
}

function printedOf({ pass, label, plannedMs }: Pick<ExposureEntry, 'pass' | 'label' | 'plannedMs'>): Printed {
  return { what: `pass ${pass}${label === '' ? '' : ` ${label}`}`, plannedMs };
}

function changesBetween(before: readonly Printed[], now: readonly Printed[]): string[] {
  const planner = loadPlanner();
  return now.flatMap(({ what, plannedMs }) => {
    const then = before.find((one) => one.what === what);
    if (!then || then.plannedMs === plannedMs || then.plannedMs === 0 || plannedMs === 0) return [];
    return [`${what} ${hundredths(planner.stopsBetween100(then.plannedMs, plannedMs))} stop`];
  });
}
