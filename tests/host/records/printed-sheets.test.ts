import Database from 'libsql';
import { expect, it } from 'vitest';
import type { LogRecord } from '../../../host/board/link/log-record.js';
import { listNights } from '../../../host/desk/server/nights/list-nights.js';
import type { ArchiveReader } from '../../../host/records/archive/archive.js';
import { openArchive } from '../../../host/records/archive/file-archive.js';
import { readArchive } from '../../../host/records/archive/read-archive.js';
import { ownFolder } from '../../proof/robustness/archive-folder.js';
import { takeBackToFormat } from './older-archive.js';

const fileOf = ownFolder();
const BOARD = '00000000000000a1';
const startMs = Date.UTC(2027, 2, 5, 18);
const DAY_MS = 86_400_000;

/** Three evenings of sheets; in the second nobody told the time, and one sheet is a strip without a recipe. */
const log: LogRecord[] = [1, 2, 3].flatMap((boot) => {
  const record = (at: number, type: string, ...rest: (string | number)[]): LogRecord => ({
    ...{ boot, seq: boot * 10 + at, uptimeMs: at * 60_000, type },
    fields: [boot, boot * 10 + at, at * 60_000, ...rest],
  });
  const sheet = (at: number, recipe: string, version: number) =>
    record(at, 'sheet', at, recipe === '' ? 'strip' : 'recipe', recipe, version, 8000, 0, 0, 0, 'cumulative');
  return [
    ...(boot === 2 ? [] : [record(0, 'clock', startMs + boot * DAY_MS)]),
    sheet(1, '', 0),
    sheet(2, 'mill', boot),
    sheet(3, boot === 3 ? 'quay' : 'mill', 1),
  ];
});

async function told(archive: ArchiveReader) {
  return {
    printed: (await archive.printedRecipes()).map(({ name, sheets }) => [name, sheets]),
    mill: await archive.nightsOf('mill'),
    latest: await archive.latestPrint('mill', 1),
  };
}

const expected = {
  printed: [
    ['quay', 1],
    ['mill', 5],
  ],
  mill: [{ night: '2027-03-08' }, { night: '2027-03-06' }, { run: { board: BOARD, log: 0, boot: 2 } }],
  latest: { board: BOARD, atMs: startMs + DAY_MS + 3 * 60_000 },
};

async function archived(name: string): Promise<string> {
  const file = fileOf(name);
  await using archive = await openArchive(file);
  // The time comes last, so that every date is worked out again.
  const isClock = ({ type }: LogRecord) => type === 'clock';
  await archive.keepRecords(
    BOARD,
    0,
    log.filter((record) => !isClock(record)),
  );
  await archive.keepRecords(BOARD, 0, log.filter(isClock));
  return file;
}

function change(file: string, sql: string): void {
  const database = new Database(file);
  database.exec(sql);
  database.close();
}

it('the recipes that were printed and their nights are told, also from a file of an older format', async () => {
  const file = await archived('printed.sqlite');
  for (const format of [undefined, 7, 5, 4] as const) {
    if (format !== undefined) takeBackToFormat(file, format);
    await using reader = await readArchive(file);
    expect(await told(reader)).toEqual(expected);
    await reader.close();
    await using writer = await openArchive(file);
    expect(await told(writer)).toEqual(expected);
  }
});

// It read the first record of every sheet: a tenth of a second and more for a thousand nights.
it('the list of nights is told of an archive in which no record can be read', async () => {
  const file = await archived('no-records.sqlite');
  const list = async () => {
    await using reader = await readArchive(file);
    return await listNights(reader);
  };
  const before = await list();
  expect(before.nights.map(({ sheets }) => sheets)).toEqual([3, 3, 3]);
  change(file, 'DROP TABLE record');
  expect(await list()).toEqual(before);
});

it('what was changed, taken away or lost in the file is told as the records have it', async () => {
  const file = await archived('changed.sqlite');
  change(file, `UPDATE record SET fields = replace(fields, '"mill",3', '"hull",3')`);
  change(file, "DELETE FROM record WHERE type = 'sheet' AND boot = 2");
  change(file, "UPDATE record SET fields = '[' WHERE seq = 13");
  await using reader = await readArchive(file);
  const names = [
    ['quay', 1],
    ['hull', 1],
    ['mill', 1],
  ];
  expect((await told(reader)).printed).toEqual(names);
  await reader.close();
  change(file, 'DELETE FROM printed WHERE seq = 12');
  await using writer = await openArchive(file);
  await writer.nameBoard(BOARD, 'garage');
  expect((await told(writer)).printed).toEqual(names);
});
