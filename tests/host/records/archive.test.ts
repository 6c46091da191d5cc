import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import { Archive, NumberingBeganAnew } from '../../../host/records/archive/archive.js';
import { ArchiveError } from '../../../host/records/archive-error.js';
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
    using archive = await Archive.open(file);
    expect(archive.latestLog('a')).toEqual({ log: 0, nextSeq: 0 });
    expect(archive.keepRecords('a', 0, [lens(1), lens(2)])).toBe(2);
    expect(archive.keepRecords('a', 0, [lens(2), lens(3, 2)])).toBe(1);
    expect(archive.keepRecords('b', 0, [lens(1)])).toBe(1);
    expect(archive.latestLog('a')).toEqual({ log: 0, nextSeq: 4 });
    expect(archive.records().map(({ board, seq }) => board + seq)).toEqual(['a1', 'a2', 'a3', 'b1']);
    expect(archive.records({ board: 'b' })).toMatchObject([
      { boot: 1, seq: 1, type: 'lens', fields: [1, 1, 100] },
    ]);
  });

  it('keeps all of a batch or nothing, and says when a number is taken by another record', async () => {
    using archive = await Archive.open(file);
    archive.keepRecords('a', 0, [lens(2)]);
    expect(() => archive.keepRecords('a', 0, [lens(1), lens(2, 1, 999)])).toThrow(NumberingBeganAnew);
    expect(archive.records()).toHaveLength(1);
    expect(archive.keepRecords('a', 1, [lens(1), lens(2, 1, 999)])).toBe(2);
    expect(archive.latestLog('a')).toEqual({ log: 1, nextSeq: 3 });
  });

  it('is one file that opens again with everything in it', async () => {
    const first = await Archive.open(file);
    first.keepRecords('a', 0, [lens(1)]);
    first.keepRecipe(recipe('Jetty'), 'a');
    first.close();
    using second = await Archive.open(file);
    expect(second.records()).toHaveLength(1);
    expect(second.recipes()).toMatchObject([{ board: 'a', recipe: recipe('Jetty') }]);
  });

  it('keeps every version of a recipe that was pushed, and the same one only once', async () => {
    using archive = await Archive.open(file);
    archive.keepRecipe(recipe('Jetty', 1), 'a');
    archive.keepRecipe(recipe('Jetty', 1), 'a');
    archive.keepRecipe(recipe('Jetty', 2), 'a');
    archive.keepRecipe({ ...recipe('Reeds'), name: 'reeds' }, null);
    expect(archive.recipes('jetty').map((kept) => kept.recipe.version)).toEqual([1, 2]);
    expect(archive.recipes()).toHaveLength(3);
  });

  it('may be written by two programs', async () => {
    using one = await Archive.open(file);
    using other = await Archive.open(file);
    one.keepRecords('a', 0, [lens(1)]);
    other.keepRecords('a', 0, [lens(1), lens(2)]);
    expect(one.records()).toHaveLength(2);
  });
});

describe('a file that is no archive of this version is left alone, with words:', () => {
  const open = () => Archive.open(file).then((archive) => archive.close());

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
    await open();
    const newer = new Database(file);
    newer.exec('PRAGMA user_version = 99');
    newer.close();
    await expect(open()).rejects.toThrow(
      /newer treadle \(its form is 99, this version knows up to \d+\): update/,
    );
    await expect(open()).rejects.toBeInstanceOf(ArchiveError);
  });

  it('a folder, or a place below a file', async () => {
    file = folder;
    await expect(open()).rejects.toThrow(/cannot be opened/);
    writeFileSync(join(folder, 'plain'), '');
    file = join(folder, 'plain', 'archive.sqlite');
    await expect(open()).rejects.toThrow(/cannot be opened/);
  });
});
