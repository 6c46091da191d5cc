import { boardWords } from '../../board-words.js';
import type { NightCount } from '../../records/archive/archive.js';
import { table } from '../terminal/table.js';
import { localTime } from './local-time.js';

/** What the printer called boards, by their ids. */
export type BoardNames = ReadonlyMap<string, string>;

/** The name of what has no date, for `--night`. */
export const UNDATED = 'unknown';

/** The nights for people, a line for each. */
export function nightList(nights: readonly NightCount[], names: BoardNames): string {
  const heads = ['night', 'from', 'to'].map((head) => ({ head }));
  const counts = ['sheets', 'exposures', 'entries'].map((head) => ({ head, align: 'right' as const }));
  return table(
    [...heads, ...counts, { head: '' }],
    nights.map((night) => [
      nameOfNight(night),
      localTime(night.firstMs),
      localTime(night.lastMs),
      ...[night.sheets, night.exposures, night.records].map(String),
      remarkOn(night, names),
    ]),
  );
}

export function nameOfNight({ night, undated }: NightCount): string {
  return night ?? `night ${undated[0]!.number} without a date`;
}

function remarkOn({ night, undated }: NightCount, names: BoardNames): string {
  const of = (board: string) => `of board ${boardWords(board, names.get(board))}`;
  if (night === null) return undated.map(({ boot, board }) => `power-on ${boot} ${of(board)}`).join('');
  const runs = undated.map(({ number, board }) => `night ${number} ${of(board)}`);
  return runs.length === 0 ? '' : `dated by hand: ${runs.join(', ')}`;
}
