import { hundredths } from '../../figures.js';
import { type NightRow, nightRows } from '../../pages/night/night-rows.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import type { ExposureEntry, LogEntry } from '../../records/log/log-entry.js';
import { isExposure } from '../../records/log/log-entry.js';

/**
 * What changed from each print to the next of the same recipe, pass by pass, in stops of what was planned:
 * the core says how many stops lie between two times.
 */
export class PrintChanges {
  readonly #before = new Map<string, readonly Printed[]>();

  /** What changed since the print before, if this row is a print and anything did. */
  from(row: NightRow): string[] {
    if (row.kind !== 'print') return [];
    const printed = row.lights.map(printedOf);
    const recipe = row.lights[0]!.recipe;
    const changes = changesBetween(this.#before.get(recipe) ?? [], printed);
    this.#before.set(recipe, printed);
    return changes.length === 0 ? [] : [`${row.title} against the one before: ${changes.join(', ')}.`];
  }
}

/** The same for a whole night. */
export function printChanges(entries: readonly LogEntry[]): string[] {
  const changes = new PrintChanges();
  return nightRows(entries.filter(isExposure)).flatMap((row) => changes.from(row));
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
