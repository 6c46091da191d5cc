import LibsqlDatabase, { type Database } from 'libsql';
import type { LogRecord } from '../../../../host/board/link/log-record.js';
import { openArchive } from '../../../../host/records/archive/file-archive.js';
import { canonicalJson, putContent } from '../../../../host/records/archive/recipe-contents.js';
import { boathouse, nightOfPrints } from './night-of-prints.js';

export const NIGHT_ENTRIES = 200;
export const BOARD = '00000000000000a1';
export const LOG = 1;
const DAY_MS = 86_400_000;
const FROM_MS = Date.UTC(2020, 5, 1, 19);

/** How much there is in an archive. */
export interface Size {
  readonly entries: number;
  /** Each with a remark. */
  readonly recipes: number;
}

let template: Promise<LogRecord[]> | undefined;

/** Nights of printing as the archive would have them, every night the same prints, of one recipe after another. */
export async function growArchive(file: string, { entries, recipes }: Size): Promise<void> {
  template ??= nightOfPrints(NIGHT_ENTRIES);
  const night = await template;
  const archive = await openArchive(file);
  await archive.nameBoard(BOARD, 'garage');
  await archive.close();
  const database = new LibsqlDatabase(file);
  database.pragma('synchronous = OFF');
  database.transaction(() => {
    keepRecipes(database, recipes);
    for (let nth = 0; nth < entries / NIGHT_ENTRIES; nth++) keepNight(database, night, nth, nth % recipes);
  })();
  database.close();
}

export const nightStartMs = (nth: number) => FROM_MS + nth * DAY_MS;
export const recipeName = (nth: number) => `negative-${nth}`;

function keepRecipes(database: Database, count: number): void {
  const keep = database.prepare(
    `INSERT INTO recipe (name, version, board, content, how, kept_ms) VALUES (?, 1, ?, ?, 'sent', ?)`,
  );
  const remark = database.prepare(
    `INSERT INTO remark (name, version, content, rating, words, written_ms) VALUES (?, 1, ?, 4, 'sky a sixth less', ?)`,
  );
  for (let nth = 0; nth < count; nth++) {
    const name = recipeName(nth);
    const hash = putContent(database, name, 1, canonicalJson({ ...boathouse, name, version: 1 })!);
    keep.run(name, BOARD, hash, FROM_MS - DAY_MS);
    remark.run(name, hash, FROM_MS);
  }
}

const insertSql = `INSERT INTO record (board, log, boot, seq, uptime_ms, type, fields, schema_hash, at_ms, collected_ms)
  VALUES ('${BOARD}', ${LOG}, ?, ?, ?, ?, ?, '00000000', ?, 0)`;

function keepNight(database: Database, night: readonly LogRecord[], nth: number, recipe: number): void {
  const insert = database.prepare(insertSql);
  const boot = 1 + nth;
  for (const [at, { uptimeMs, type, fields }] of night.entries()) {
    const seq = nth * NIGHT_ENTRIES + at + 1;
    const own = fields.slice(3).map((field) => (field === boathouse.name ? recipeName(recipe) : field));
    const atMs = nightStartMs(nth) + uptimeMs;
    insert.run(boot, seq, uptimeMs, type, JSON.stringify([boot, seq, uptimeMs, ...own]), atMs);
  }
}
