import type { Database } from 'libsql';
import { nightOf } from '../log/night.js';
import { NightOutOfOrder, type Run } from './archive.js';

/** @throws NightOutOfOrder */
export function dateByHand(database: Database, run: Run, night: string | null, nowMs: number): void {
  const key = { board: run.board, log: run.log, boot: run.boot };
  database.prepare('DELETE FROM dated_by_hand WHERE board = :board AND log = :log AND boot = :boot').run(key);
  if (night === null) return;
  const before = nightBeside(database, run, 'before');
  const after = nightBeside(database, run, 'after');
  if ((before !== undefined && night < before) || (after !== undefined && night > after))
    throw new NightOutOfOrder(
      `${night} cannot be: the same board was switched on ${placeWords(before, after)}; its power-ons came one after another; ${adviceWords(before, after)}`,
    );
  database
    .prepare(
      'INSERT INTO dated_by_hand (board, log, boot, night, written_ms) VALUES (:board, :log, :boot, :night, :nowMs)',
    )
    .run({ ...key, night, nowMs });
}

function placeWords(before: string | undefined, after: string | undefined): string {
  if (before === undefined) return `on ${after} after that`;
  return after === undefined
    ? `on ${before} before that`
    : `on ${before} before that, and on ${after} after it`;
}

function adviceWords(before: string | undefined, after: string | undefined): string {
  if (before === undefined) return `give ${after} or an earlier date`;
  if (after === undefined) return `give ${before} or a later date`;
  // A laptop's clock that went back: no date lies between.
  if (before > after) return `no date is possible until that of a neighbour is put right`;
  return before === after ? `give ${after}` : `give a date between ${before} and ${after}`;
}

const sides = {
  before: { than: '<', which: 'DESC', extreme: 'max' },
  after: { than: '>', which: 'ASC', extreme: 'min' },
} as const;

/** The evening of the nearest run of the same board that has one, by a clock or by hand. */
function nightBeside(database: Database, run: Run, side: keyof typeof sides): string | undefined {
  const { than, which, extreme } = sides[side];
  const near = `board = :board AND (log, boot) ${than} (:log, :boot)`;
  const values = { board: run.board, log: run.log, boot: run.boot };
  const byClock = database
    .prepare(
      `SELECT log, boot, ${extreme}(at_ms) AS atMs FROM record WHERE ${near} AND at_ms IS NOT NULL
       GROUP BY log, boot ORDER BY log ${which}, boot ${which} LIMIT 1`,
    )
    .get(values) as { log: number; boot: number; atMs: number } | undefined;
  const byHand = database
    .prepare(
      `SELECT log, boot, night FROM dated_by_hand WHERE ${near} ORDER BY log ${which}, boot ${which} LIMIT 1`,
    )
    .get(values) as { log: number; boot: number; night: string } | undefined;
  const nights = [byClock && nightOf(byClock.atMs), byHand?.night]
    .filter((night) => night !== undefined)
    .sort();
  return side === 'before' ? nights.at(-1) : nights[0];
}
