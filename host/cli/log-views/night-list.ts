import type { NightCount, UndatedRun } from '../../records/archive/archive.js';
import { table } from '../terminal/table.js';
import { localTime } from './local-time.js';

/** The name of what has no date, for `--night`. */
export const UNDATED = 'unknown';

/** The nights for people, a line for each. */
export function nightList(nights: readonly NightCount[]): string {
  const heads = ['night', 'from', 'to'].map((head) => ({ head }));
  const counts = ['sheets', 'exposures', 'entries'].map((head) => ({ head, align: 'right' as const }));
  return table(
    [...heads, ...counts, { head: '' }],
    nights.map((night) => [
      nameOfNight(night),
      localTime(night.firstMs),
      localTime(night.lastMs),
      ...[night.sheets, night.exposures, night.records].map(String),
      remarkOn(night),
    ]),
  );
}

export function nameOfNight({ night, undated }: NightCount): string {
  return night ?? `night ${undated[0]!.number} without a date`;
}

function remarkOn({ night, undated }: NightCount): string {
  if (night !== null) return undated.length === 0 ? '' : `dated by hand: ${undated.map(nameOf).join(', ')}`;
  return undated.map(({ boot, board }) => `power-on ${boot} of board ${board}`).join('');
}

function nameOf({ number, board }: UndatedRun): string {
  return `night ${number} of board ${board}`;
}
