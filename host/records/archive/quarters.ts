/**
 * How much was logged in each quarter of an hour of each run: what a list of nights is read from, so that it takes as
 * long as the years and not as the entries. Everywhere a day begins at a whole quarter of an hour of UTC (IANA, time zone
 * database: since 1972 no zone is off by less), so a quarter belongs to one night wherever the laptop is.
 */

export const QUARTER_MS = 900_000;
/** The quarter of what has no date. */
export const UNDATED_QUARTER = -1;

const quarterOf = (record: string) =>
  `CASE WHEN ${record}at_ms IS NULL THEN ${UNDATED_QUARTER} ELSE ${record}at_ms / ${QUARTER_MS} END`;
const columns = 'board, log, boot, quarter, first_ms, last_ms, records, sheets, exposures';

/** The table and what is counted already. */
export function quarterTable(kind: '' | 'TEMP'): string {
  return `
  CREATE ${kind} TABLE quarter (
    board TEXT NOT NULL,
    log INTEGER NOT NULL,
    boot INTEGER NOT NULL,
    -- Of an hour, since 1970; ${UNDATED_QUARTER} for what has no date.
    quarter INTEGER NOT NULL,
    first_ms INTEGER,
    last_ms INTEGER,
    records INTEGER NOT NULL,
    sheets INTEGER NOT NULL,
    exposures INTEGER NOT NULL,
    PRIMARY KEY (quarter, board, log, boot)
  ) STRICT, WITHOUT ROWID;
  ${countEverything}`;
}

/** A sheet that was begun and never saw light is none. */
export const sheetsOf = (record: string) => `(${record}type = 'sheet') - (${record}type = 'sheet-unused')`;

export const countEverything = `
  INSERT INTO quarter (${columns})
    SELECT board, log, boot, ${quarterOf('')}, min(at_ms), max(at_ms),
      count(*), sum(${sheetsOf('')}), sum(type = 'exposure')
    FROM record GROUP BY 1, 2, 3, 4;`;

const countNew = `
    INSERT INTO quarter (${columns})
      VALUES (new.board, new.log, new.boot, ${quarterOf('new.')}, new.at_ms, new.at_ms,
        1, ${sheetsOf('new.')}, new.type = 'exposure')
      ON CONFLICT (quarter, board, log, boot) DO UPDATE SET
        first_ms = min(first_ms, excluded.first_ms),
        last_ms = max(last_ms, excluded.last_ms),
        records = records + 1,
        sheets = sheets + excluded.sheets,
        exposures = exposures + excluded.exposures;`;

const theOld = `board = old.board AND log = old.log AND boot = old.boot`;
/** By the index of times (`+` keeps the others out), so that it takes the same however long the run is. */
const stillThere = (which: string) =>
  `(SELECT ${which}(at_ms) FROM record WHERE +board = old.board AND +log = old.log AND +boot = old.boot
      AND at_ms BETWEEN quarter.quarter * ${QUARTER_MS} AND quarter.quarter * ${QUARTER_MS} + ${QUARTER_MS - 1})`;
const discountOld = `
    UPDATE quarter SET
        records = records - 1,
        sheets = sheets - (${sheetsOf('old.')}),
        exposures = exposures - (old.type = 'exposure'),
        first_ms = CASE WHEN old.at_ms IS NULL OR first_ms < old.at_ms THEN first_ms ELSE ${stillThere('min')} END,
        last_ms = CASE WHEN old.at_ms IS NULL OR last_ms > old.at_ms THEN last_ms ELSE ${stillThere('max')} END
      WHERE ${theOld} AND quarter = ${quarterOf('old.')};
    DELETE FROM quarter WHERE ${theOld} AND quarter = ${quarterOf('old.')} AND records <= 0;`;

/** Whatever changes the records, the counts follow in the same transaction. */
export const countingTriggers = `
  CREATE TRIGGER record_added AFTER INSERT ON record BEGIN ${countNew}
  END;
  CREATE TRIGGER record_changed AFTER UPDATE OF at_ms, type ON record
  WHEN old.at_ms IS NOT new.at_ms OR old.type IS NOT new.type BEGIN ${discountOld} ${countNew}
  END;
  CREATE TRIGGER record_removed AFTER DELETE ON record BEGIN ${discountOld}
  END;`;
