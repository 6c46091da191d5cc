/**
 * What was read of papers: a row for each thing that was said of one paper in one developer, and none is ever changed or
 * taken away. A paper's profile is worked out from them, so its versions are numbered by them: version 3 is what follows
 * from the first three.
 */
import type { KeptPaperReading } from './archive.js';
import { jsonOf, textColumn, textOf, wholeColumn } from './rows.js';

export const paperReadingTable = (kind: '' | 'TEMP') => `
  CREATE ${kind} TABLE paper_reading (
    id INTEGER PRIMARY KEY,
    paper TEXT NOT NULL,
    -- Empty where none was named.
    developer TEXT NOT NULL,
    -- What was read or said, as JSON.
    body TEXT NOT NULL,
    kept_ms INTEGER NOT NULL
  ) STRICT;`;

export const paperReadingsSql = `SELECT ${textColumn('paper')}, ${textColumn('developer')}, ${textColumn('body')},
  ${wholeColumn('kept_ms', 'keptMs')} FROM paper_reading WHERE :paper IS NULL OR paper = :paper ORDER BY id`;

export interface PaperReadingRow {
  readonly paper: ArrayBuffer;
  readonly developer: ArrayBuffer;
  readonly body: ArrayBuffer | null;
  readonly keptMs: number;
}

/** One that is damaged in the file stays in its place, so that the others keep their numbers. */
export function paperReadingOf({ paper, developer, body, keptMs }: PaperReadingRow): KeptPaperReading {
  return {
    paper: textOf(paper) ?? '',
    developer: textOf(developer) ?? '',
    body: jsonOf(body) ?? null,
    keptMs,
  };
}
