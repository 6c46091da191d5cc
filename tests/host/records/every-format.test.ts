import { readFileSync } from 'node:fs';
import Database from 'libsql';
import { describe, expect, it } from 'vitest';
import type { ArchiveReader } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { seedArchive, seedArchived } from '../../formats/seed.js';
import { ownFolder } from '../../proof/robustness/archive-folder.js';
import { listOf } from '../../setup/list-of.js';
import { takeBackToFormat } from './older-archive.js';

const fileOf = ownFolder();
const { board } = seedArchived(1);

/** All that an archive tells. */
async function told(archive: ArchiveReader) {
  const nights = await listOf(archive.nights());
  return {
    records: await listOf(archive.records()),
    ofNights: await Promise.all(nights.map(({ night }) => listOf(archive.records({ night })))),
    ...{ nights, boards: await archive.boards(), names: await archive.boardNames() },
    ...{ recipes: await archive.recipes(), remarks: await archive.remarks() },
    ...{ printed: await archive.printedRecipes(), papers: await archive.paperReadings() },
    ...{ endedByPower: await archive.sheetsEndedByPower({}), latest: await archive.latestNight() },
  };
}

const schemaOf = (file: string) => {
  const database = new Database(file);
  const schema = database
    .prepare("SELECT type, name, tbl_name, replace(sql, '\"', '') AS sql FROM sqlite_schema ORDER BY 1, 2")
    .all();
  database.close();
  return schema;
};

/** As the first format had it, before anything could be said of a recipe. */
function withoutRemarks(file: string): void {
  const database = new Database(file);
  database.exec('DROP TABLE remark; PRAGMA user_version = 1;');
  database.close();
}

/** As the third had it: records as in the fourth, recipes and what was said of them as in the second. */
function withRecipesOf(second: string, file: string): void {
  const database = new Database(file);
  database.exec(
    `ATTACH '${second}' AS second; DROP TABLE recipe; DROP TABLE remark; DROP TABLE recipe_content;`,
  );
  const made = database
    .prepare(
      "SELECT sql FROM second.sqlite_schema WHERE tbl_name IN ('recipe', 'remark') AND sql IS NOT NULL",
    )
    .all() as { sql: string }[];
  for (const { sql } of made) database.exec(sql);
  for (const table of ['recipe', 'remark'])
    database.exec(`INSERT INTO main.${table} SELECT * FROM second.${table};`);
  database.exec('PRAGMA user_version = 3;');
  database.close();
}

/** With what that format can hold. */
async function archiveOf(format: number): Promise<string> {
  const file = seedArchive(1, fileOf(`format-${format}.sqlite`));
  if (format === 1) withoutRemarks(file);
  if (format <= 2) return file;
  {
    await using archive = await openArchive(file);
    if (format >= 5) {
      const [undated] = (await listOf(archive.nights())).flatMap(({ undated }) => undated);
      if (undated !== undefined) await archive.dateByHand(undated, '2030-01-01');
    }
    const sheet = { board, log: 0, boot: 1, seq: 1 };
    const [first] = await archive.recipes();
    const { name, version } = first!.recipe;
    const remark = { name, version, content: null, rating: 5, words: 'kept' };
    await archive.addRemark({ ...remark, sheet: format >= 6 ? sheet : null });
    if (format >= 7) await archive.nameBoard(board, 'garage');
    if (format >= 9) await archive.addPaperReading({ paper: 'matt', developer: '', body: { version: 1 } });
  }
  if (format < 10) takeBackToFormat(file, Math.max(format, 4) as 4);
  if (format === 3) withRecipesOf(seedArchive(1, fileOf('second.sqlite')), file);
  return file;
}

describe.each([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])('an archive of format %d', (format) => {
  it('tells the same to who only reads it, changing no byte, and to who brings it up to date', async () => {
    const file = await archiveOf(format);
    const bytes = readFileSync(file);
    const reader = await readArchive(file);
    const before = await told(reader);
    await reader.close();
    expect(readFileSync(file).equals(bytes)).toBe(true);
    expect(before.records.length).toBeGreaterThan(90);
    expect(before.recipes.length).toBe(3);
    expect(before.remarks.length).toBe(format === 1 ? 0 : format < 4 ? 2 : 3);
    {
      await using writer = await openArchive(file);
      expect(await told(writer)).toEqual(before);
    }
    await using again = await readArchive(file);
    expect(await told(again)).toEqual(before);
  });

  it('is afterwards one of today, to the last trigger', async () => {
    const file = await archiveOf(format);
    await (await openArchive(file)).close();
    const today = fileOf('today.sqlite');
    const fresh = await openArchive(today);
    await fresh.nameBoard('a', 'one');
    await fresh.close();
    expect(schemaOf(file)).toEqual(schemaOf(today));
  });
});
