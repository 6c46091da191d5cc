import { hundredths } from '../../figures.js';
import { type NightRow, nightRows } from '../../pages/night/night-rows.js';
import { loadPlanner } from '../../recipe/planner/index.js';
import { type ExposureEntry, isExposure, type LogEntry } from '../../records/log/log-entry.js';

/**
 * What changed from each print to the next of the same recipe, pass by pass, in stops of what was planned:
 * the core says how many stops lie between two times. It is started only where something did change.
 */
export class PrintChanges {
  readonly #before = new Map<string, readonly Printed[]>();
  readonly #changed: Changed[] = [];

  /** Notes what changed since the print before, if this row is a print and anything did. */
  add(row: NightRow): void {
    if (row.kind !== 'print') return;
    const printed = row.lights.map(printedOf);
    const recipe = row.lights[0]!.recipe;
    const changes = changesBetween(this.#before.get(recipe) ?? [], printed);
    this.#before.set(recipe, printed);
    if (changes.length > 0) this.#changed.push({ title: row.title, changes });
  }

  /** A line for each print that was not as the one before. */
  lines(): string[] {
    if (this.#changed.length === 0) return [];
    const planner = loadPlanner();
    const words = ({ what, thenMs, nowMs }: Change) =>
      `${what} ${hundredths(planner.stopsBetween100(thenMs, nowMs))} stop`;
    return this.#changed.map(
      ({ title, changes }) => `${title} against the one before: ${changes.map(words).join(', ')}.`,
    );
  }
}

/** The same for a whole night. */
export function printChanges(entries: readonly LogEntry[]): string[] {
  const changes = new PrintChanges();
  for (const row of nightRows(entries.filter(isExposure))) changes.add(row);
  return changes.lines();
}

interface Printed {
  readonly what: string;
  readonly plannedMs: number;
}

interface Change {
  readonly what: string;
  readonly thenMs: number;
  readonly nowMs: number;
}

interface Changed {
  readonly title: string;
  readonly changes: readonly Change[];
}

function printedOf({ pass, label, plannedMs }: Pick<ExposureEntry, 'pass' | 'label' | 'plannedMs'>): Printed {
  return { what: `pass ${pass}${label === '' ? '' : ` ${label}`}`, plannedMs };
}

function changesBetween(before: readonly Printed[], now: readonly Printed[]): Change[] {
  return now.flatMap(({ what, plannedMs }) => {
    const then = before.find((one) => one.what === what);
    if (!then || then.plannedMs === plannedMs || then.plannedMs === 0 || plannedMs === 0) return [];
    return [{ what, thenMs: then.plannedMs, nowMs: plannedMs }];
  });
}
