import type { Database } from 'libsql';
import { ArchiveError } from '../archive-error.js';
import { dateEverything } from './date-records.js';
import { recipeMarkIndex, sheetMarkIndex } from './marks.js';
import { paperReadingTable } from './paper-readings.js';
import { printedTable, printedTriggers, printedView } from './printed-sheets.js';
import { countingTriggers, quarterTable } from './quarters.js';
import { makeContents } from './recipe-contents.js';

/** Marks a SQLite file as an archive of treadle ('TrdA'), so that no other database is ever written to. */
const APPLICATION_ID = 0x5472_6441;

/** What each record has had from the first format on; `at_ms` is worked out from all of a run, see dating.ts. */
const recordColumns = `
  board TEXT NOT NULL,
  -- Rises when a board's numbering began anew, after its storage was wiped.
  log INTEGER NOT NULL,
  boot INTEGER NOT NULL,
  seq INTEGER NOT NULL,
  uptime_ms INTEGER NOT NULL,
  type TEXT NOT NULL,
  -- All fields in the order of the wire, as the schema of that hash has them.
  fields TEXT NOT NULL,
  schema_hash TEXT NOT NULL`;

const firstFormat = `
  CREATE TABLE record (${recordColumns},
    pulled_ms INTEGER NOT NULL,
    PRIMARY KEY (board, log, boot, seq)
  ) STRICT;
  CREATE INDEX record_in_order ON record (board, log, seq);
  CREATE TABLE recipe (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    version INTEGER NOT NULL,
    negative TEXT NOT NULL,
    board TEXT,
    body TEXT NOT NULL,
    kept_ms INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX recipe_by_name ON recipe (name, version);`;

const remarks = `
  CREATE TABLE remark (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    version INTEGER NOT NULL,
    -- 1 to 5, or none.
    rating INTEGER CHECK (rating BETWEEN 1 AND 5),
    words TEXT NOT NULL,
    written_ms INTEGER NOT NULL
  ) STRICT;`;

/** The record table that is read today, filled from the one of the first formats, which is called `old`. */
const datedRecords = (kind: '' | 'TEMP', old: string) => `
  CREATE ${kind} TABLE record (${recordColumns},
    collected_ms INTEGER NOT NULL,
    -- In milliseconds since 1970; null where no laptop told the time in that run.
    at_ms INTEGER,
    PRIMARY KEY (board, log, boot, seq)
  ) STRICT, WITHOUT ROWID;
  INSERT INTO record (board, log, boot, seq, uptime_ms, type, fields, schema_hash, collected_ms)
    SELECT board, log, boot, seq, uptime_ms, type, fields, schema_hash, pulled_ms FROM ${old}
    ORDER BY board, log, boot, seq;`;

const recordIndexes = (schema: 'main' | 'temp') => `
  CREATE INDEX ${schema}.clock_mark ON record (board, log, boot, seq) WHERE type = 'clock';
  CREATE INDEX ${schema}.record_in_order ON record (board, log, seq);
  CREATE INDEX ${schema}.record_by_time ON record (at_ms, type);`;

const datesByHand = (kind: '' | 'TEMP') => `
  CREATE ${kind} TABLE dated_by_hand (
    board TEXT NOT NULL,
    log INTEGER NOT NULL,
    boot INTEGER NOT NULL,
    -- The date of the evening, YYYY-MM-DD, of a run in which no laptop told the time.
    night TEXT NOT NULL,
    written_ms INTEGER NOT NULL,
    PRIMARY KEY (board, log, boot)
  ) STRICT, WITHOUT ROWID;`;

/** Where the record stands that begins the sheet a remark is about; null in all four for what is said of a recipe. */
const remarkedSheets = (schema: 'main' | 'temp') =>
  ['board TEXT', 'log INTEGER', 'boot INTEGER', 'seq INTEGER']
    .map((column) => `ALTER TABLE ${schema}.remark ADD COLUMN ${column};`)
    .join(' ');

const boardNames = (kind: '' | 'TEMP') => `
  CREATE ${kind} TABLE board_name (
    board TEXT PRIMARY KEY,
    name TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;`;

/** Each step from one format of the file to the next; the file's `user_version` counts those it has taken. */
const steps: readonly ((database: Database) => void)[] = [
  (database) => database.exec(firstFormat),
  (database) => database.exec(`${remarks} CREATE INDEX remark_by_recipe ON remark (name, version);`),
  (database) => {
    database.exec('ALTER TABLE record RENAME TO record_before; DROP INDEX record_in_order;');
    database.exec(datedRecords('', 'record_before'));
    database.exec('DROP TABLE record_before;');
    dateEverything(database);
    database.exec(recordIndexes('main'));
  },
  (database) => {
    database.exec('ALTER TABLE recipe RENAME TO recipe_before; ALTER TABLE remark RENAME TO remark_before;');
    database.exec('DROP INDEX recipe_by_name; DROP INDEX remark_by_recipe;');
    makeContents(database, '', { recipe: 'recipe_before', remark: 'remark_before' });
    database.exec('DROP TABLE recipe_before; DROP TABLE remark_before;');
  },
  (database) => database.exec(`${quarterTable('')} ${countingTriggers} ${datesByHand('')}`),
  (database) => database.exec(remarkedSheets('main')),
  (database) => database.exec(`${boardNames('')} ${sheetMarkIndex}`),
  (database) => database.exec(`${printedTable} ${printedTriggers}`),
  (database) => database.exec(paperReadingTable('')),
  (database) => database.exec(recipeMarkIndex),
];

export const FORMAT = steps.length;
/** From this one on, what was read of papers is in the file. */
const PAPERS_FORMAT = 9;
/** From this one on, what sheets were printed by is kept beside the records. */
const PRINTED_FORMAT = 8;
/** From this one on, boards have their names in the file. */
const NAMED_FORMAT = 7;
/** From this one on, a remark may be about a sheet. */
const SHEETS_REMARKED_FORMAT = 6;
/** From this one on, what is logged is counted in the file. */
const COUNTED_FORMAT = 5;
/** From this one on, each content of a recipe stands by itself. */
const CONTENTS_FORMAT = 4;
/** From this one on, records stand in the file as they are read. */
const DATED_FORMAT = 3;
const REMARKED_FORMAT = 2;

/** The file's format; 0 for an empty file. @throws ArchiveError for another program's file, or a newer one */
export function formatOf(database: Database, file: string): number {
  const owner = Number(pragma(database, 'application_id'));
  const { count } = database.prepare('SELECT count(*) AS count FROM sqlite_schema').get() as {
    count: number;
  };
  if (count === 0) return 0;
  if (owner !== APPLICATION_ID)
    throw new ArchiveError(file, 'this is a database of another program; name another file', { exitCode: 2 });
  const format = Number(pragma(database, 'user_version'));
  if (format > FORMAT)
    throw new ArchiveError(
      file,
      `it was made by a newer treadle (its format is ${format}, this version knows up to ${FORMAT}): ` +
        'update this one, or name another file',
    );
  return format;
}

/** Brings a file of an older format up to date, inside the transaction that is open. */
export function bringUpToDate(database: Database, format: number): void {
  for (const step of steps.slice(format)) step(database);
  database.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${FORMAT};`);
}

/** Lets a file of an older format be read as one of today's, by tables that go when the connection does. */
export function shimOlderFormat(database: Database, format: number): void {
  if (format >= FORMAT) return;
  // Temporary tables of a large archive are no matter for memory.
  database.exec('PRAGMA temp_store = FILE;');
  if (format >= PAPERS_FORMAT) return;
  database.exec(paperReadingTable('TEMP'));
  if (format >= PRINTED_FORMAT) return;
  database.exec(printedView);
  if (format >= NAMED_FORMAT) return;
  database.exec(boardNames('TEMP'));
  if (format >= SHEETS_REMARKED_FORMAT) return;
  if (format < CONTENTS_FORMAT) {
    const remark = format < REMARKED_FORMAT ? undefined : 'main.remark';
    makeContents(database, 'TEMP', { recipe: 'main.recipe', remark });
  } else database.exec('CREATE TEMP TABLE remark AS SELECT * FROM main.remark;');
  database.exec(remarkedSheets('temp'));
  if (format >= COUNTED_FORMAT) return;
  if (format < DATED_FORMAT) {
    database.exec(`BEGIN; ${datedRecords('TEMP', 'main.record')}`);
    dateEverything(database);
    database.exec(`${recordIndexes('temp')} COMMIT;`);
  }
  database.exec(`${quarterTable('TEMP')} ${datesByHand('TEMP')}`);
}

function pragma(database: Database, name: string): unknown {
  const row = database.prepare(`PRAGMA ${name}`).get() as Record<string, unknown> | undefined;
  return row?.[name];
}
