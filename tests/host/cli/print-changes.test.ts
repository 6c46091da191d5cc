import { describe, expect, it } from 'vitest';
import { printChanges } from '../../../host/cli/log-views/print-changes.js';
import type { ExposureEntry } from '../../../host/records/log/log-entry.js';

function light(
  sheet: number,
  kind: 'base' | 'burn' | 'strip',
  label: string,
  plannedMs: number,
): ExposureEntry {
  return {
    ...{
      seq: sheet,
      log: 1,
      boot: 1,
      at: null,
      board: 'b',
      night: null,
      uptimeMs: 0,
      recipe: 'jetty',
      patch: 0,
      filter: '2',
    },
    ...{ onMs: plannedMs, doseMs: plannedMs, outcome: 'complete', pauses: 0 },
    ...{ kind, sheet, label, plannedMs, pass: kind === 'burn' ? 2 : 1 },
  };
}

describe('what changed from print to print', () => {
  // Stops between two times: log2(t2 / t1), so a sixth of a stop is a factor of 1.1225.
  it('is told pass by pass in stops, strips between them passed over', () => {
    const lines = printChanges([
      light(1, 'base', '', 10_000),
      light(1, 'burn', 'sky', 5000),
      light(2, 'strip', '', 5000),
      light(3, 'base', '', 11_225),
      light(3, 'burn', 'sky', 5000),
    ]);
    expect(lines).toEqual(['sheet 3: jetty against the one before: pass 1 +0.17 stop.']);
  });

  it('is nothing for the same print twice', () => {
    expect(printChanges([light(1, 'base', '', 10_000), light(2, 'base', '', 10_000)])).toEqual([]);
  });
});
