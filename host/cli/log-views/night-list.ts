import type { NightCount } from '../../records/archive/archive.js';
import { table } from '../terminal/table.js';
import { localTime } from './local-time.js';

/** The name of what has no date, for `--night`. */
export const UNDATED = 'unknown';

/** The nights for people, a line for each. */
export function nightList(nights: readonly NightCount[]): string {
  return table(
    [
      { head: 'night' },
      { head: 'from' },
      { head: 'to' },
      { head: 'sheets', align: 'right' },
      { head: 'exposures', align: 'right' },
      { head: 'entries', align: 'right' },
    ],
    nights.map(({ night, firstMs, lastMs, sheets, exposures, records }) => [
      night ?? UNDATED,
      localTime(firstMs),
      localTime(lastMs),
      ...[sheets, exposures, records].map(String),
    ]),
  );
}
