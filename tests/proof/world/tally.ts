import { faultKinds } from './faults.js';
import type { WorldReport } from './world.js';

/** What many worlds came to, by kind. */
export class Tally {
  worlds = 0;
  entries = 0;
  pulses = 0;
  jobsDone = 0;
  jobsFailed = 0;
  updates = 0;
  readonly faults = Object.fromEntries(faultKinds.map((kind) => [kind, 0]));
  readonly accidents: Record<string, number> = {};
  readonly exposures: Record<string, number> = {};
  readonly rot: Record<string, number> = {};
  readonly violations: { readonly seed: number; readonly words: readonly string[] }[] = [];

  add(report: WorldReport): void {
    this.worlds++;
    this.entries += report.entries;
    this.pulses += report.pulses;
    this.jobsDone += report.work.done;
    this.jobsFailed += report.work.failed + report.work.refused;
    this.updates += report.work.updated;
    addUp(this.faults, report.faults);
    addUp(this.accidents, report.accidents);
    addUp(this.rot, report.rot);
    addUp(this.exposures, report.exposures);
    if (report.violations.length > 0) this.violations.push({ seed: report.seed, words: report.violations });
  }

  toString(): string {
    const counts = (of: Record<string, number>) =>
      Object.entries(of).map(([kind, count]) => `${kind} ${count}`);
    return [
      `${this.worlds} worlds: ${this.entries} entries archived, ${this.pulses} pulses of the lamp,`,
      `${this.jobsDone} jobs done, ${this.jobsFailed} failed in words, ${this.updates} times new firmware; ${this.violations.length} worlds with violations.`,
      `Exposures: ${counts(this.exposures).join(', ')}.`,
      `Faults: ${counts(this.faults).join(', ')}.`,
      `Archives on a rotting disk: ${counts(this.rot).join(', ')}.`,
      `Accidents on the wire: ${counts(this.accidents).join(', ')}.`,
    ].join('\n');
  }
}

function addUp(sum: Record<string, number>, more: Readonly<Record<string, number | undefined>>): void {
  for (const [kind, count] of Object.entries(more)) sum[kind] = (sum[kind] ?? 0) + (count ?? 0);
}
