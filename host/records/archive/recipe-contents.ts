/**
 * Recipes in the archive's file: each content stands there once, under the hash of it, and each time that one was sent to a
 * board, saved from it or found on it has a row that points to its content. So has a remark.
 */
import { createHash } from 'node:crypto';
import type { Database } from 'libsql';
import { jsonOf, textColumn, textOf, wholeColumn } from './rows.js';

type Kind = '' | 'TEMP';

/** The tables of today, filled from those of earlier formats, which are called `old`; of remarks there were none once. */
export function makeContents(
  database: Database,
  kind: Kind,
  old: { readonly recipe: string; readonly remark: string | undefined },
): void {
  database.exec(tables(kind));
  moveRecipes(database, old.recipe);
  if (old.remark !== undefined) moveRemarks(database, old.remark);
}

const tables = (kind: Kind) => `
  CREATE ${kind} TABLE recipe_content (
    -- SHA-256 of the body, hexadecimal.
    hash TEXT PRIMARY KEY,
    name TEXT NOT NULL,
    version INTEGER NOT NULL,
    -- As JSON, its names in order.
    body TEXT NOT NULL
  ) STRICT, WITHOUT ROWID;
  CREATE ${kind} TABLE recipe (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    version INTEGER NOT NULL,
    board TEXT,
    content TEXT NOT NULL,
    -- sent, saved or collected.
    how TEXT NOT NULL,
    -- The board's checksum of what it then had, where it told one.
    body_crc TEXT,
    kept_ms INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX ${kind === '' ? 'main' : 'temp'}.recipe_by_name ON recipe (name, version);
  CREATE ${kind} TABLE remark (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    version INTEGER NOT NULL,
    -- What was printed; null where nothing tells.
    content TEXT,
    -- 1 to 5, or none.
    rating INTEGER CHECK (rating BETWEEN 1 AND 5),
    words TEXT NOT NULL,
    written_ms INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX ${kind === '' ? 'main' : 'temp'}.remark_by_recipe ON remark (name, version);`;

interface OldRecipeRow {
  readonly id: number;
  readonly name: ArrayBuffer;
  readonly version: number;
  readonly board: ArrayBuffer | null;
  readonly body: ArrayBuffer;
  readonly keptMs: number;
}

function moveRecipes(database: Database, old: string): void {
  const rows = database
    .prepare(
      `SELECT ${wholeColumn('id')}, ${textColumn('name')}, ${wholeColumn('version')}, ${textColumn('board')},
       ${textColumn('body')}, ${wholeColumn('kept_ms', 'keptMs')} FROM ${old} ORDER BY id`,
    )
    .all() as OldRecipeRow[];
  const insert = database.prepare(
    `INSERT INTO recipe (id, name, version, board, content, how, kept_ms)
     VALUES (?, ?, ?, ?, ?, 'sent', ?) ON CONFLICT DO NOTHING`,
  );
  for (const row of rows) {
    const name = textOf(row.name) ?? '';
    // What is no JSON is moved as it is: it may be mended, and the rows that point to it say that there was something.
    const body = canonicalJson(jsonOf(row.body)) ?? Buffer.from(row.body).toString('latin1');
    const hash = putContent(database, name, row.version, body);
    insert.run(row.id, name, row.version, textOf(row.board) ?? null, hash, row.keptMs);
  }
}

/** A remark of then is about what was sent last under that version before it was written. */
function moveRemarks(database: Database, old: string): void {
  const content = 'SELECT content FROM recipe WHERE recipe.name = was.name AND recipe.version = was.version';
  database.exec(
    `INSERT INTO remark (id, name, version, content, rating, words, written_ms)
     SELECT id, name, version, ifnull(
       (${content} AND recipe.kept_ms <= was.written_ms ORDER BY id DESC LIMIT 1), (${content} ORDER BY id LIMIT 1)),
       rating, words, written_ms FROM ${old} AS was;`,
  );
}

/** Keeps a content, once, and answers its hash. */
export function putContent(database: Database, name: string, version: number, body: string): string {
  const hash = createHash('sha256').update(body).digest('hex');
  database
    .prepare(
      'INSERT INTO recipe_content (hash, name, version, body) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING',
    )
    .run(hash, name, version, body);
  return hash;
}

/** JSON with the names of every object in order, so that equal contents are equal texts; undefined is none. */
export function canonicalJson(value: unknown): string | undefined {
  return JSON.stringify(value, (_, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([one], [other]) => (one < other ? -1 : 1)))
      : inner,
  );
}
