import { readFileSync, writeFileSync } from 'node:fs';
import Database from 'libsql';
import { expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import type { ArchiveReader, NightCount } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { nightOf } from '../../../host/records/log/night.js';
import { ownFolder } from '../../proof/robustness/archive-folder.js';
import { listOf } from '../../setup/list-of.js';
import { Random } from '../../setup/random.js';
import { takeBackToFormat } from './older-archive.js';

const fileOf = ownFolder();
const BOARDS = ['00000000000000a1', '00000000000000b2'];
const HOUR_MS = 3_600_000;
const startMs = Date.UTC(2027, 2, 5, 18);

/** A log of some power-ons; in some of them, somewhere, a laptop told the time. */
function someLog(random: Random): LogRecord[] {
  const records: LogRecord[] = [];
  for (let boot = 1; boot <= 6; boot++) {
    const count = random.between(1, 12);
    const markAt = random.chance(0.6) ? random.below(count) : -1;
    let uptimeMs = 0;
    for (let at = 0; at < count; at++) {
      uptimeMs += random.below(3 * HOUR_MS);
      const seq = records.length + 1;
      const told = startMs + boot * 40 * HOUR_MS + uptimeMs;
      const type = at === markAt ? 'clock' : ['sheet', 'exposure', 'lens'][random.below(3)]!;
      const rest = type === 'clock' ? [told] : [];
      records.push({ boot, seq, uptimeMs, type, fields: [boot, seq, uptimeMs, ...rest] });
    }
  }
  return records;
}

/** What the list of nights says, worked out from every record. */
async function countedOneByOne(
  archive: ArchiveReader,
  board?: string,
): Promise<Omit<NightCount, 'undated'>[]> {
  const counts = new Map<string, { -readonly [Key in keyof NightCount]: NightCount[Key] }>();
  const undated = new Map<string, number>();
  for await (const record of archive.records(board === undefined ? {} : { board })) {
    const night = record.atMs === null ? null : nightOf(record.atMs);
    const key = night ?? `without ${record.board} ${record.boot}`;
    if (night === null && !undated.has(key)) undated.set(key, undated.size);
    const count = counts.get(key) ?? {
      ...{
        night,
        firstMs: record.atMs,
        lastMs: record.atMs,
        records: 0,
        sheets: 0,
        exposures: 0,
        undated: [],
      },
    };
    if (record.atMs !== null) {
      count.firstMs = Math.min(count.firstMs!, record.atMs);
      count.lastMs = Math.max(count.lastMs!, record.atMs);
    }
    count.records++;
    if (record.type === 'sheet') count.sheets++;
    if (record.type === 'exposure') count.exposures++;
    counts.set(key, count);
  }
  const place = ([key, { night }]: [string, NightCount]) => night ?? `without ${1000 + undated.get(key)!}`;
  const inOrder = [...counts].sort((one, other) => (place(one) < place(other) ? -1 : 1));
  return inOrder.map(([, { undated: _, ...count }]) => count);
}

async function nightsOf(archive: ArchiveReader, board?: string) {
  const nights = await listOf(archive.nights(board === undefined ? {} : { board }));
  return nights.map(({ undated: _, ...count }) => count);
}

// The list of nights read every entry there was: most of a second for a million of them.
it.each([1, 2, 3, 4, 5, 6, 7, 8])(
  'the list of nights says what counting every entry says, however the log came in (seed %i)',
  async (seed) => {
    const random = new Random(seed);
    const file = fileOf(`counted-${seed}.sqlite`);
    await using archive = await openArchive(file);
    for (const board of BOARDS) {
      const log = someLog(random);
      // Batches of any size, some of them again, and some of an earlier time: the dates of what came before may change.
      for (let at = 0; at < log.length; ) {
        const size = random.between(1, 9);
        await archive.keepRecords(board, 0, log.slice(Math.max(0, at - random.below(4)), at + size));
        at += size;
        expect(await nightsOf(archive)).toEqual(await countedOneByOne(archive));
      }
      expect(await nightsOf(archive, board)).toEqual(await countedOneByOne(archive, board));
    }
  },
);

it('a mark that changes dates leaves no night behind that has no entry', async () => {
  await using archive = await openArchive(fileOf('moved.sqlite'));
  const record = (seq: number, uptimeMs: number, type: string, ...rest: number[]): LogRecord => ({
    ...{ boot: 1, seq, uptimeMs, type, fields: [1, seq, uptimeMs, ...rest] },
  });
  const [first, second, third] = [
    record(1, 0, 'lens'),
    record(2, 60_000, 'clock', startMs + 72 * HOUR_MS),
    record(3, 120_000, 'lens'),
  ];
  await archive.keepRecords(BOARDS[0]!, 0, [first, third]);
  expect(await nightsOf(archive)).toMatchObject([{ night: null, records: 2 }]);
  await archive.keepRecords(BOARDS[0]!, 0, [second]);
  expect(await nightsOf(archive)).toMatchObject([{ night: '2027-03-08', records: 3 }]);
});

// The database's own check knows nothing of what the counts mean.
it('counts that have changed in the file are counted anew when it is next written to', async () => {
  const file = fileOf('rotten.sqlite');
  {
    await using archive = await openArchive(file);
    await archive.keepRecords(BOARDS[0]!, 0, someLog(new Random(1)));
  }
  const database = new Database(file);
  database.exec('UPDATE quarter SET records = records + 7, sheets = 1000');
  database.close();
  await using archive = await openArchive(file);
  expect(await nightsOf(archive)).toEqual(await countedOneByOne(archive));
});

it('an archive in which nothing was counted yet is counted for who reads it, and for good when it is written to', async () => {
  const file = fileOf('uncounted.sqlite');
  {
    await using archive = await openArchive(file);
    await archive.keepRecords(BOARDS[0]!, 0, someLog(new Random(2)));
  }
  takeBackToFormat(file, 4);
  await using reader = await readArchive(file);
  const expected = await countedOneByOne(reader);
  expect(await nightsOf(reader)).toEqual(expected);
  await using writer = await openArchive(file);
  expect(await nightsOf(writer)).toEqual(expected);
  const [clock] = [[9, 1000, 0, startMs]] as const;
  await writer.keepRecords(BOARDS[1]!, 0, [
    { boot: 9, seq: 1000, uptimeMs: 0, type: 'clock', fields: clock },
  ]);
  expect(await nightsOf(writer)).toEqual(await countedOneByOne(writer));
});

// One such record must not take the others of its page with it.
it('a page with a record that is no text any more is read one by one', async () => {
  const file = fileOf('blob.sqlite');
  const log = someLog(new Random(3));
  {
    await using archive = await openArchive(file);
    await archive.keepRecords(BOARDS[0]!, 0, log);
  }
  const database = new Database(file);
  database.exec("UPDATE record SET fields = CAST(x'5bff' AS TEXT) WHERE seq = 2");
  database.exec("UPDATE record SET type = CAST(x'fe' AS TEXT) WHERE seq = 3");
  database.exec("UPDATE record SET fields = '[1,2],[3]' WHERE seq = 4");
  database.close();
  await using reader = await readArchive(file);
  const records = await listOf(reader.records());
  expect(records.map(({ seq }) => seq)).toEqual(log.map(({ seq }) => seq));
  expect(records.filter(({ type }) => type === 'damaged').map(({ seq }) => seq)).toEqual([2, 3, 4]);
  expect(records.at(-1)?.fields).toEqual(log.at(-1)?.fields);
});

// The database's own check does not read what a trigger would do: one with a rotten name in it failed only when it fired.
it('a trigger that rotted in the file is made anew, and counts as before', async () => {
  const file = fileOf('rotten-trigger.sqlite');
  const records = someLog(new Random(7));
  {
    await using archive = await openArchive(file);
    await archive.keepRecords(BOARDS[0]!, 0, records.slice(0, 10));
  }
  const bytes = readFileSync(file, 'latin1');
  expect(bytes).toContain('new.board');
  writeFileSync(file, bytes.replaceAll('new.board', 'new.beard'), 'latin1');
  await using archive = await openArchive(file);
  await archive.keepRecords(BOARDS[0]!, 0, records);
  const nights = await listOf(archive.nights());
  expect(nights.reduce((sum, night) => sum + night.records, 0)).toBe(records.length);
});

// For each entry that got its date the whole run was read: a full log of one run took minutes to come into the archive.
it('an entry that gets another date takes the same however long its run is', async () => {
  const file = fileOf('long-run.sqlite');
  await using archive = await openArchive(file);
  await archive.keepRecords(BOARDS[0]!, 1, someLog(new Random(1)));
  const database = new Database(file);
  const { sql } = database.prepare("SELECT sql FROM sqlite_schema WHERE name = 'record_changed'").get() as {
    sql: string;
  };
  const discount = /UPDATE quarter[^;]+/.exec(sql)![0].replaceAll('old.', ':');
  const values = { board: '', log: 0, boot: 0, at_ms: 0, type: '' };
  const plan = database.prepare(`EXPLAIN QUERY PLAN ${discount}`).all(values) as { detail: string }[];
  database.close();
  const ofRecords = plan.map(({ detail }) => detail).filter((detail) => detail.includes('record'));
  expect(ofRecords).toHaveLength(2);
  for (const detail of ofRecords) expect(detail).toContain('INDEX record_by_time (at_ms>? AND at_ms<?)');
});
