import type { PrintedSheet } from '../../../../host/records/again/printed-sheet.js';
import type { ExposureEntry } from '../../../../host/records/log/log-entry.js';

type Light = Pick<
  ExposureEntry,
  'kind' | 'label' | 'filter' | 'pass' | 'plannedMs' | 'doseMs' | 'onMs' | 'outcome' | 'recipe'
>;

/** A whole print, sheet 7 of its evening, and its lights as the log has them. */
export function printedSheet(
  lights: readonly Light[],
  more: Partial<PrintedSheet> & Pick<PrintedSheet, 'recipe' | 'version' | 'baseMs'>,
): PrintedSheet {
  return {
    ...{ board: 'a', log: 1, boot: 1, seq: 1, remarks: [], at: '2027-03-05T20:00:00.000Z' },
    ...{ night: '2027-03-05', ending: 'complete', turns: [], stoppedDown: 0, sheet: 7, job: 'recipe' },
    ...{ stepStops120: 0, stepMs: 0, patches: 0, cover: 'cumulative' },
    lights: lights.map((light) => ({
      ...{ log: 1, seq: 1, boot: 1, at: null, night: null, board: 'a', uptimeMs: 0 },
      ...{ patch: 0, pauses: 0, sheet: 7 },
      ...light,
    })),
    ...more,
  };
}
