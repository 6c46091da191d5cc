/**
 * Each sheet of which a recipe is known, beside its record: so that which recipes were printed, and in which nights, is
 * told without reading a record. Whatever changes the records, this follows in the same transaction.
 */

import { sheetMarks } from './marks.js';

/** Of a sheet's fields, boot, seq and uptime come first, then its number, what for, the recipe and the version. */
const field = (record: string, at: number) => `json_extract(${record}fields, '$[${at}]')`;
const hasRecipe = (record: string) => `${record}type = 'sheet' AND CASE WHEN json_valid(${record}fields)
  THEN typeof(${field(record, 5)}) = 'text' AND ${field(record, 5)} <> '' END`;
const columns = 'board, log, boot, seq, recipe, version, at_ms';
const columnsOf = (record: string) =>
  `${['board', 'log', 'boot', 'seq'].map((column) => `${record}${column}`).join(', ')},
  ${field(record, 5)} AS recipe, CAST(${field(record, 6)} AS INTEGER) AS version, ${record}at_ms`;

/** As the records tell it. */
export const sheetsTold = `SELECT ${columnsOf('')} FROM record WHERE ${sheetMarks} AND ${hasRecipe('')}`;
export const keepEverySheet = `INSERT INTO printed (${columns}) ${sheetsTold};`;

/** The table and what was printed already. */
export const printedTable = `
  CREATE TABLE printed (
    board TEXT NOT NULL,
    log INTEGER NOT NULL,
    boot INTEGER NOT NULL,
    seq INTEGER NOT NULL,
    recipe TEXT NOT NULL,
    version INTEGER,
    at_ms INTEGER,
    PRIMARY KEY (board, log, boot, seq)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX printed_by_recipe ON printed (recipe, at_ms);
  ${keepEverySheet}`;

/** What stands for that table in a file of an older format: the records, looked at when they are asked for. */
export const printedView = `CREATE TEMP VIEW printed (${columns}) AS ${sheetsTold};`;

const keepNew = `
    INSERT INTO printed (${columns}) SELECT ${columnsOf('new.')} WHERE ${hasRecipe('new.')};`;
const dropOld = `
    DELETE FROM printed WHERE board = old.board AND log = old.log AND boot = old.boot AND seq = old.seq;`;

export const printedTriggers = `
  CREATE TRIGGER sheet_added AFTER INSERT ON record WHEN new.type = 'sheet' BEGIN ${keepNew}
  END;
  CREATE TRIGGER sheet_changed AFTER UPDATE OF at_ms, type, fields ON record
  WHEN old.type = 'sheet' OR new.type = 'sheet' BEGIN ${dropOld} ${keepNew}
  END;
  CREATE TRIGGER sheet_removed AFTER DELETE ON record WHEN old.type = 'sheet' BEGIN ${dropOld}
  END;`;
