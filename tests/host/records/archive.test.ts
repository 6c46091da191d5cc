import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import { NumberingBeganAnew } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { ArchiveError } from '../../../host/records/archive-error.js';
import { logEntries } from '../../../host/records/log/log-entry.js';
import { listOf } from '../../setup/list-of.js';
import { recipe } from '../board/link/laptop.js';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-archive-'));
  file = join(folder, 'deep', 'archive.sqlite');
});
afterEach(() => rmSync(folder, { recursive: true }));

function lens(seq: number, boot = 1, uptimeMs = seq * 100): LogRecord {
  return { boot, seq, uptimeMs, type: 'lens', fields: [boot, seq, uptimeMs] };
}

describe('the archive', () => {
  it('keeps each record once, and tells where the next pull starts', async () => {
    await using archive = await openArchive(file);
    expect(await archive.latestLog('a')).toEqual({ log: 0, nextSeq: 0 });
    expect(await archive.keepRecords('a', 0, [lens(1), lens(2)])).toBe(2);
    expect(await archive.keepRecords('a', 0, [lens(2), lens(3, 2)])).toBe(1);
    expect(await archive.keepRecords('b', 0, [lens(1)])).toBe(1);
    expect(await archive.latestLog('a')).toEqual({ log: 0, nextSeq: 4 });
    expect((await listOf(archive.records())).map(({ board, seq }) => board + seq)).toEqual([
      'a1',
      'a2',
      'a3',
      'b1',
    ]);
    expect(await listOf(archive.records({ board: 'b' }))).toMatchObject([
      { boot: 1, seq: 1, type: 'lens', fields: [1, 1, 100] },
    ]);
  });

  it('keeps all of a batch or nothing, and says when a number is taken by another record', async () => {
    await using archive = await openArchive(file);
    await archive.keepRecords('a', 0, [lens(2)]);
    await expect(archive.keepRecords('a', 0, [lens(1), lens(2, 1, 999)])).rejects.toThrow(NumberingBeganAnew);
    expect(await listOf(archive.records())).toHaveLength(1);
    expect(await archive.keepRecords('a', 1, [lens(1), lens(2, 1, 999)])).toBe(2);
    expect(await archive.latestLog('a')).toEqual({ log: 1, nextSeq: 3 });
  });

  it('is one file that opens again with everything in it', async () => {
    const first = await openArchive(file);
    await first.keepRecords('a', 0, [lens(1)]);
    await first.keepRecipe(recipe('Jetty'), 'a');
    await first.close();
    await using second = await openArchive(file);
    expect(await listOf(second.records())).toHaveLength(1);
    expect(await second.recipes()).toMatchObject([{ board: 'a', recipe: recipe('Jetty') }]);
  });

  it('keeps every version of a recipe that was pushed, and the same one only once', async () => {
    await using archive = await openArchive(file);
    await archive.keepRecipe(recipe('Jetty', 1), 'a');
    await archive.keepRecipe(recipe('Jetty', 1), 'a');
    await archive.keepRecipe(recipe('Jetty', 2), 'a');
    await archive.keepRecipe({ ...recipe('Reeds'), name: 'reeds' }, null);
    expect((await archive.recipes('jetty')).map((kept) => kept.recipe.version)).toEqual([1, 2]);
    expect(await archive.recipes()).toHaveLength(3);
  });

  // SQLite's file format: the application's own number stands at offset 68, most significant byte first; 'file' knows it by that.
  it('says in its file whose it is, and holds what has no date as files of before do', async () => {
    await using archive = await openArchive(file);
    await archive.keepRecords('a', 0, [lens(1)]);
    expect(readFileSync(file).toString('latin1', 68, 72)).toBe('TrdA');
    const database = new Database(file);
    expect(database.prepare('SELECT quarter, records FROM quarter').all()).toMatchObject([
      { quarter: -1, records: 1 },
    ]);
    database.close();
  });

  it('has a record put right of which anything has changed in the file', async () => {
    await using archive = await openArchive(file);
    const records = Array.from({ length: 5 }, (_, at) => lens(at + 1));
    await archive.keepRecords('a', 0, records);
    for (const damage of ['uptime_ms = 7', "type = 'sens'", "fields = '[1,2]'", "fields = '[1,2,200],4'"]) {
      const database = new Database(file);
      database.exec(`UPDATE record SET ${damage} WHERE seq = 2`);
      database.close();
      expect(await archive.keepRecords('a', 0, records)).toBe(0);
      expect(await listOf(archive.records())).toMatchObject(records);
    }
  });

  // What a date can be: ECMA-262, 21.4.1.1.
  it('takes a date that cannot be for none, and tells all the same', async () => {
    await using archive = await openArchive(file);
    await archive.keepRecords('a', 0, [lens(1), lens(2)]);
    for (const atMs of [8.64e15, 8.64e15 + 1, -8.64e15 - 1, 9e15, -9e15]) {
      const database = new Database(file);
      database.exec(`UPDATE record SET at_ms = ${BigInt(atMs)} WHERE seq = 2`);
      database.close();
      const entries = await listOf(logEntries(archive.records()));
      expect(entries.map(({ at, night }) => [at, night])).toEqual([
        [null, null],
        [null, null],
      ]);
      expect(await archive.latestNight()).toBeUndefined();
    }
  });

  it('may be written by two programs', async () => {
    await using one = await openArchive(file);
    await using other = await openArchive(file);
    await one.keepRecords('a', 0, [lens(1)]);
    await other.keepRecords('a', 0, [lens(1), lens(2)]);
    expect(await listOf(one.records())).toHaveLength(2);
  });
});

describe('a file that is no archive of this version is left alone, with words:', () => {
  const open = () => openArchive(file).then((archive) => archive.close());

  it('something that is no database', async () => {
    file = join(folder, 'notes.txt');
    writeFileSync(file, 'bath mixed on Thursday, do not lose this\n'.repeat(100));
    await expect(open()).rejects.toThrow(/no archive; name another/);
    await expect(open()).rejects.toMatchObject({ exitCode: 2, file });
  });

  it("another program's database", async () => {
    file = join(folder, 'other.sqlite');
    const other = new Database(file);
    other.exec('CREATE TABLE sheep (name TEXT)');
    other.close();
    await expect(open()).rejects.toThrow(/another program/);
    const again = new Database(file);
    expect(again.prepare('SELECT count(*) AS count FROM sqlite_schema').get()).toMatchObject({ count: 1 });
    again.close();
  });

  it('an archive of a newer version', async () => {
    await using archive = await openArchive(file);
    await archive.keepRecords('a', 0, [lens(1)]);
    const newer = new Database(file);
    newer.exec('PRAGMA user_version = 99');
    newer.close();
    await expect(open()).rejects.toThrow(
      /newer treadle \(its format is 99, this version knows up to \d+\): update/,
    );
    await expect(open()).rejects.toBeInstanceOf(ArchiveError);
    await expect(open()).rejects.toMatchObject({ exitCode: 1 });
  });

  it('a folder, or a place below a file', async () => {
    file = folder;
    await expect(open()).rejects.toThrow(/that is a folder/);
    writeFileSync(join(folder, 'plain'), '');
    file = join(folder, 'plain', 'archive.sqlite');
    await expect(open()).rejects.toThrow(/cannot be opened/);
  });
});
