import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { seedArchive, seedArchived } from '../../formats/seed.js';
import { listOf } from '../../setup/list-of.js';
import { treadle } from '../cli/treadle.js';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'treadle-reading-'));
  file = join(folder, 'archive.sqlite');
});
afterEach(() => rmSync(folder, { recursive: true }));

const lens = (seq: number) => ({ boot: 1, seq, uptimeMs: seq, type: 'lens', fields: [1, seq, seq] });

async function makeArchive(): Promise<void> {
  await using archive = await openArchive(file);
  await archive.keepRecords('a', 0, [lens(1), lens(2)]);
}

// Each reading command opened the file for writing and set its modes anew: none worked on a disk that may only be
// read, or while another program had it open.
describe('reading an archive', () => {
  it('leaves the file as it is, to the last byte and second', async () => {
    await makeArchive();
    const [bytes, { mtimeMs }] = [readFileSync(file), statSync(file)];
    for (const words of [['nights'], ['nights', '--night', 'unknown'], ['nights', '--csv'], ['recipes']])
      expect((await treadle([...words, '--archive', file])).code).toBe(0);
    expect(readFileSync(file).equals(bytes)).toBe(true);
    expect(statSync(file).mtimeMs).toBe(mtimeMs);
  });

  it('goes on beside another that reads, and one that has begun to write', async () => {
    await makeArchive();
    const other = new Database(file);
    other.exec('BEGIN IMMEDIATE');
    other.exec("UPDATE record SET type = 'lens'");
    await using one = await readArchive(file);
    await using two = await readArchive(file);
    expect(await listOf(one.records())).toHaveLength(2);
    expect(await listOf(two.records())).toHaveLength(2);
    other.exec('ROLLBACK');
    other.close();
  });

  it('that is taken slowly does not keep another from writing', async () => {
    await makeArchive();
    await using reader = await readArchive(file);
    const slowly = reader.records()[Symbol.asyncIterator]();
    await slowly.next();
    await using writer = await openArchive(file);
    expect(await writer.keepRecords('a', 0, [lens(3)])).toBe(1);
    expect((await slowly.next()).done).toBe(false);
  });

  it('may be done where nobody may write', async () => {
    await makeArchive();
    chmodSync(file, 0o444);
    await using reader = await readArchive(file);
    expect(await listOf(reader.records())).toHaveLength(2);
  });

  it('takes an archive of the first version as it is, dates it, and leaves it so; a writer brings it up to date', async () => {
    const old = seedArchive(1, file);
    const bytes = readFileSync(old);
    const expected = seedArchived(1).records.length;
    const datesOf = async () => {
      await using reader = await readArchive(old);
      const nights = await listOf(reader.nights());
      return { nights, dates: (await listOf(reader.records())).map(({ atMs }) => atMs) };
    };
    const before = await datesOf();
    expect(before.dates).toHaveLength(expected);
    expect(before.dates).not.toContain(null);
    expect(before.nights.map(({ night }) => night)).toEqual(['2027-03-05']);
    expect(readFileSync(old).equals(bytes)).toBe(true);
    await (await openArchive(old)).close();
    expect(readFileSync(old).equals(bytes)).toBe(false);
    expect(await datesOf()).toEqual(before);
  });

  it('of a newer version is refused in words, and the file is left alone', async () => {
    await makeArchive();
    const newer = new Database(file);
    newer.exec('PRAGMA user_version = 99');
    newer.close();
    const bytes = readFileSync(file);
    await expect(readArchive(file)).rejects.toThrow(/newer treadle \(its format is 99/);
    expect(readFileSync(file).equals(bytes)).toBe(true);
  });

  it('of an empty file is refused in words', async () => {
    writeFileSync(file, '');
    await expect(readArchive(file)).rejects.toThrow(/the file is empty/);
  });
});
