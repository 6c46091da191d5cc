/** What follows the records of a file by triggers, and is put right where it does not. */
import type { Database } from 'libsql';
import { keepEverySheet, printedTriggers, sheetsTold } from './printed-sheets.js';
import { countEverything, countingTriggers, sheetsOf } from './quarters.js';
import { textOf } from './rows.js';

/** The triggers as the file has to have them, in the order of their names. */
const triggersAsKept = `${countingTriggers}${printedTriggers}`
  .trim()
  .split(/;\s+(?=CREATE TRIGGER)/)
  .map((trigger) => trigger.replace(/;$/, ''))
  .sort();

/** Makes the triggers anew where they are not ours to the letter: what rotted in one is else met when it fires. */
export function putTriggersRight(database: Database): void {
  const there = database
    .prepare(
      "SELECT CAST(name AS BLOB) AS name, CAST(sql AS BLOB) AS said FROM sqlite_schema WHERE type = 'trigger'",
    )
    .all() as { name: ArrayBuffer; said: ArrayBuffer }[];
  const said = there.map((trigger) => textOf(trigger.said) ?? '').sort();
  if (said.join() === triggersAsKept.join()) return;
  for (const { name } of there) database.exec(`DROP TRIGGER "${(textOf(name) ?? '').replaceAll('"', '""')}"`);
  database.exec(`${countingTriggers} ${printedTriggers}`);
}

/** Counts anew where the counts are not those of the records: the database's own check does not see that. */
export function putCountsRight(database: Database): void {
  const counted = sums(database, 'quarter', 'records', 'sheets', 'exposures');
  const there = sums(database, 'record', '1', sheetsOf(''), "type = 'exposure'");
  if (counted !== there) database.exec(`DELETE FROM quarter; ${countEverything}`);
  const printed = ['1', 'log', 'boot', 'seq', 'version', 'at_ms'];
  if (sums(database, 'printed', ...printed) !== sums(database, `(${sheetsTold})`, ...printed))
    database.exec(`DELETE FROM printed; ${keepEverySheet}`);
}

function sums(database: Database, from: string, ...counts: string[]): string {
  const said = counts.map((count) => `printf('%.0f', total(${count}))`).join(` || ' ' || `);
  return (database.prepare(`SELECT ${said} AS said FROM ${from}`).get() as { said: string }).said;
}
